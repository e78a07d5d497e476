//! How far a worked-out value may be from the true one.
//!
//! Of a weighted sum it is exact: where the points of a reading are in a given order, the sum is
//! linear in them, and the greatest error is the sum of its weights without their signs times the
//! greatest error of one point. So all choices of a greatest and a smallest point are tried.

use super::growing::Growing;
use super::linear::{Linear, Share, linear};
use super::{Known, Knowns};
use locknut_finding::Span;
use locknut_graph::{Causes, Doubt, Expression, Fold, Operator};
use locknut_quantity::{Bound, Exact, Range};
use num_traits::{Signed, Zero};
use std::collections::{BTreeMap, BTreeSet};

/// How far a value may be from the true one, wherever in its range it lies.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Uncertain {
    /// Its greatest error; none: not stated.
    pub(crate) error: Option<Exact>,
    /// Its standard uncertainty, where a calibration states one.
    pub(crate) uncertainty: Option<Exact>,
    /// The one instrument that all of it comes from, where its error is all there is if it is the same at each
    /// reading: of a mean and a sum it is, of a difference it falls out.
    pub(crate) cause: Option<Span>,
    /// What each instrument adds to the error of a weighted sum; none where a fold picks from several points, or where of some
    /// reading nothing is stated.
    pub(crate) causes: Option<Causes>,
    /// How its error grows with it, where that says more than the greatest one.
    pub(crate) grows: Option<Growing>,
}

impl Uncertain {
    /// Its greatest error at the ends of a limit; of one without ends, the greatest of all.
    pub(crate) fn error_at(&self, limit: &Range) -> Option<Exact> {
        let ends = [limit.lower.as_ref(), limit.upper.as_ref()].into_iter().flatten();
        let there =
            self.grows.as_ref().and_then(|grows| ends.map(|end| grows.at(&end.value)).max());
        there.into_iter().chain(self.error.clone()).min()
    }

    /// What is known of its error at each value; of one that grows, unless the greatest in `range` is less than what
    /// that comes to.
    pub(crate) fn bound(&self, range: Option<&Range>) -> Option<Doubt> {
        let top = range.and_then(|range| range.upper.as_ref());
        let closer = |grows: &&Growing| match (&self.error, top) {
            (Some(error), Some(top)) => grows.at(&top.value) <= *error,
            (Some(_), None) => false,
            (None, _) => true,
        };
        let grows = self.grows.as_ref().filter(closer).map(Growing::doubt);
        grows.or_else(|| self.error.clone().map(Doubt::within))
    }

    /// Of what is counted or known exactly.
    pub(crate) fn nothing() -> Self {
        Self::within(Some(Exact::zero()))
    }

    /// Of a value of which only its greatest error is known.
    pub(crate) fn within(error: Option<Exact>) -> Self {
        Self { error, uncertainty: None, cause: None, causes: None, grows: None }
    }

    /// Of so many times it.
    fn times(self, by: &Exact) -> Self {
        Self::within(self.error.map(|error| error * by.abs()))
    }

    /// Of a sum of two: their errors may come together. Of uncertainties nothing is claimed, as what is looked up
    /// is not spread as its key is.
    fn beside(self, other: Self) -> Self {
        Self::within(self.error.zip(other.error).map(|(one, other)| one + other))
    }
}

/// How far an expression may be from its true value; none where it is neither a weighted sum nor made of such
/// and of tables in proportion, or where nothing is stated of some reading in it.
pub(crate) fn uncertain(expression: &Expression, knowns: &Knowns) -> Option<Uncertain> {
    if let Some(sum) = linear(expression, knowns) {
        return sum.uncertain(knowns);
    }
    match expression {
        Expression::Negative(inner) => uncertain(inner, knowns),
        Expression::Binary(Operator::Add | Operator::Subtract, left, right) => {
            Some(uncertain(left, knowns)?.beside(uncertain(right, knowns)?))
        }
        Expression::Binary(Operator::Multiply, left, right) => {
            let (by, of) = match (constant(left, knowns), constant(right, knowns)) {
                (Some(by), _) => (by, right),
                (None, Some(by)) => (by, left),
                (None, None) => return None,
            };
            Some(uncertain(of, knowns)?.times(&by))
        }
        Expression::Binary(Operator::Divide, of, by) => {
            let by = constant(by, knowns).filter(|by| !by.is_zero())?;
            Some(uncertain(of, knowns)?.times(&by.recip()))
        }
        // The greatest of several is no further off than the one of them that is furthest off.
        Expression::Fold(fold @ (Fold::Max | Fold::Min | Fold::Abs), parts) => {
            let all: Option<Vec<Uncertain>> =
                parts.iter().map(|part| uncertain(part, knowns)).collect();
            let all = all?;
            let grows = Some(all.as_slice()).filter(|_| *fold != Fold::Abs);
            let grows = grows.and_then(Growing::of_any);
            let errors: Option<Vec<Exact>> = all.into_iter().map(|one| one.error).collect();
            let error = errors.and_then(|errors| errors.into_iter().max());
            (error.is_some() || grows.is_some())
                .then(|| Uncertain { grows, ..Uncertain::within(error) })
        }
        // What is handed in may lie on the steepest piece; where a table jumps, nothing can be said.
        Expression::LookUp(table, end, of) => {
            let steepest = table.steepest(*end)?;
            Some(Uncertain::within(uncertain(of, knowns)?.error.map(|error| error * steepest)))
        }
        Expression::Value(_)
        | Expression::Reading(_)
        | Expression::Point(..)
        | Expression::Fold(Fold::Mean | Fold::Spread | Fold::Sum | Fold::Count, _) => None,
    }
}

/// What an expression comes to whatever is read.
fn constant(expression: &Expression, knowns: &Knowns) -> Option<Exact> {
    linear(expression, knowns).filter(|sum| sum.terms.is_empty()).map(|sum| sum.constant)
}

/// What gives a one-sided limit on an expression its other side: what it comes to where every reading
/// is as expected; else what it comes to whatever is read (a spread is never below nothing).
pub(crate) fn other_side(expression: &Expression, knowns: &Knowns) -> Range {
    let side = other_side_of_sum(expression, knowns);
    let nothing = Exact::zero();
    match &side.lower {
        Some(least) if least.value >= nothing => side,
        _ if never_below_nothing(expression) => {
            Range { lower: Some(Bound { value: nothing, closed: true }), ..side }
        }
        _ => side,
    }
}

/// Whether an expression is no less than nothing, whatever its readings are.
fn never_below_nothing(expression: &Expression) -> bool {
    match expression {
        Expression::Value(quantity) => !quantity.value.is_negative(),
        Expression::Fold(Fold::Abs | Fold::Spread | Fold::Count, _) => true,
        Expression::Fold(Fold::Max, parts) => parts.iter().any(never_below_nothing),
        Expression::Fold(Fold::Min | Fold::Mean | Fold::Sum, parts) => {
            parts.iter().all(never_below_nothing)
        }
        Expression::Binary(Operator::Subtract, left, right) => {
            // The greatest of some is no less than the least of any with one of these among them.
            let (Expression::Fold(Fold::Max, most), Expression::Fold(Fold::Min, least)) =
                (left.as_ref(), right.as_ref())
            else {
                return false;
            };
            most.iter().any(|one| least.contains(one))
        }
        Expression::Binary(_, left, right) => {
            never_below_nothing(left) && never_below_nothing(right)
        }
        Expression::Reading(_)
        | Expression::Point(..)
        | Expression::Negative(_)
        | Expression::LookUp(..) => false,
    }
}

fn other_side_of_sum(expression: &Expression, knowns: &Knowns) -> Range {
    let Some(sum) = linear(expression, knowns) else { return Range::default() };
    let of_sum: Knowns = sum
        .terms
        .keys()
        .filter_map(|atom| Some((atom.reading(), knowns.get(atom.reading())?.clone())))
        .map(|(id, known)| (id, if known.expected { known } else { unbounded(known) }))
        .collect();
    sum.possible(&of_sum).range
}

fn unbounded(known: Known) -> Known {
    Known { possible: super::Possible::default(), ..known }
}

impl Linear {
    fn uncertain(&self, knowns: &Knowns) -> Option<Uncertain> {
        let mut all = Uncertain::nothing();
        let mut makes = Makes::default();
        let mut causes = BTreeSet::new();
        let mut signs = Signs::default();
        // Errors that are stated as uncertainties may add up all the same: they may come from one cause.
        let mut total = Some(Exact::zero());
        for (reading, share) in self.shares() {
            let known = knowns.get(reading)?;
            let doubt = known.doubt.as_ref()?;
            let weight = share.steepest(known.points.max(1));
            let add = |sum: Option<Exact>, part: Option<&Exact>| Some(sum? + part? * &weight);
            let error = known.error();
            all.error = add(all.error, error.as_ref());
            // Of several points one may be far out though each is most likely not: nothing is claimed.
            let exact = error.as_ref().filter(|error| error.is_zero());
            let part = doubt.uncertainty.as_ref().filter(|_| share.is_smooth()).or(exact);
            if exact.is_none() {
                causes.insert(doubt.cause);
                makes.add(doubt, error.as_ref(), &share, &weight);
                share.weights().for_each(|weight| signs.see(weight));
            }
            total = add(total, part);
        }
        all.uncertainty = total.filter(Signed::is_positive);
        let only = causes.pop_first().filter(|_| causes.is_empty()).flatten();
        all.cause = only.filter(|_| !signs.both());
        all.causes = makes.causes();
        all.grows = self.grows(knowns);
        Some(all)
    }
}

/// What each instrument adds to the error of a sum.
#[derive(Default)]
struct Makes {
    /// By instrument: how much, whether that is a standard uncertainty, and the signs with which it counts.
    parts: BTreeMap<Span, (Exact, bool, Signs)>,
    unknown: bool,
}

impl Makes {
    fn add(&mut self, doubt: &Uncertain, error: Option<&Exact>, share: &Share, weight: &Exact) {
        let normal = doubt.uncertainty.is_some();
        let much = doubt.uncertainty.as_ref().or(error);
        let (Some(cause), Some(much), true) = (doubt.cause, much, share.is_smooth()) else {
            self.unknown = true;
            return;
        };
        // Nothing tells that an error of an instrument cancels in a difference: what it adds is added up.
        let part = self.parts.entry(cause).or_insert((Exact::zero(), normal, Signs::default()));
        part.0 += much * weight;
        share.weights().for_each(|weight| part.2.see(weight));
    }

    fn causes(self) -> Option<Causes> {
        let unlike = self.parts.values().any(|(.., signs)| signs.both());
        let (normal, alike): (Vec<_>, Vec<_>) =
            self.parts.into_values().partition(|(_, normal, _)| *normal);
        let much =
            |parts: Vec<(Exact, bool, Signs)>| parts.into_iter().map(|part| part.0).collect();
        let causes = Causes { alike: much(alike), normal: much(normal), unlike };
        (!self.unknown).then_some(causes)
    }
}

/// Which signs the weights of a sum have.
#[derive(Default)]
struct Signs {
    above: bool,
    below: bool,
}

impl Signs {
    fn see(&mut self, weight: &Exact) {
        self.above |= weight.is_positive();
        self.below |= weight.is_negative();
    }

    fn both(&self) -> bool {
        self.above && self.below
    }
}

impl Share {
    pub(super) fn weights(&self) -> impl Iterator<Item = &Exact> {
        [&self.max, &self.min, &self.mean].into_iter().chain(self.points.values())
    }

    /// Whether no fold picks out one point.
    fn is_smooth(&self) -> bool {
        self.max.is_zero() && self.min.is_zero()
    }

    /// The greatest sum of the weights of all points without their signs.
    pub(super) fn steepest(&self, points: usize) -> Exact {
        let even = &self.mean / Exact::from_integer(points.into());
        let plain: Vec<Exact> = (0..points)
            .map(|point| &even + self.points.get(&point).cloned().unwrap_or_else(Exact::zero))
            .collect();
        let rest = plain.iter().fold(Exact::zero(), |sum, weight| sum + weight.abs());
        if self.is_smooth() {
            return rest;
        }
        // What it gains where this point is the greatest, that one the smallest, or one is both.
        let gain = |weight: &Exact, more: &Exact| (weight + more).abs() - weight.abs();
        let both = &self.max + &self.min;
        let mut best: Option<Exact> = None;
        for (at, one) in plain.iter().enumerate() {
            for (beside, other) in plain.iter().enumerate() {
                let gained = if at == beside {
                    if points > 1 {
                        continue;
                    }
                    gain(one, &both)
                } else {
                    gain(one, &self.max) + gain(other, &self.min)
                };
                best = Some(best.map_or(gained.clone(), |best| best.max(gained)));
            }
        }
        rest + best.unwrap_or_else(Exact::zero)
    }
}
