//! Expressions over readings as weighted sums, and what they may come to.
//!
//! Using a reading twice does not widen the result: `max(gap) - min(gap)` is never below zero. A sum
//! of folds and points of one reading is greatest and least where each point stands at an end of its
//! range (on every ordering of the points it is linear, and the corners of an ordering are corners
//! of the box), so the corners are tried.

use super::ends::Ends;
use super::known::Settled;
use super::{Known, Knowns, Possible};
use locknut_graph::{Expression, Fold, Operator, ReadingId};
use locknut_quantity::{Exact, Grid};
use num_traits::{One, Signed, Zero};
use std::collections::{BTreeMap, BTreeSet};

/// So many settled sums together bound another.
const MOST_AT_ONCE: usize = 2;

/// So many of the settled sums are looked at, the last ones: what is left out would only have narrowed it further.
pub(super) const MOST_SETTLED: usize = 16;

/// Above so many points, corners are not tried one by one (2^10 of them).
pub(super) const MOST_SINGLE_POINTS: usize = 10;

/// A value of one reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Atom {
    /// One point; a reading of a single value has only the first.
    Point(ReadingId, usize),
    Max(ReadingId),
    Min(ReadingId),
    Mean(ReadingId),
}

impl Atom {
    /// The reading that it is a value of.
    pub(crate) fn reading(self) -> ReadingId {
        match self {
            Self::Point(reading, _)
            | Self::Max(reading)
            | Self::Min(reading)
            | Self::Mean(reading) => reading,
        }
    }
}

/// `constant + Σ weight × atom`; no weight is zero.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Linear {
    pub(crate) constant: Exact,
    pub(crate) terms: BTreeMap<Atom, Exact>,
}

impl Linear {
    fn fixed(constant: Exact) -> Self {
        Self { constant, terms: BTreeMap::new() }
    }

    pub(super) fn of(atom: Atom) -> Self {
        Self { constant: Exact::zero(), terms: BTreeMap::from([(atom, Exact::one())]) }
    }

    pub(super) fn times(mut self, factor: &Exact) -> Self {
        self.constant *= factor;
        self.terms.values_mut().for_each(|weight| *weight *= factor);
        self.terms.retain(|_, weight| !weight.is_zero());
        self
    }

    pub(super) fn plus(mut self, other: Self) -> Self {
        self.constant += other.constant;
        for (atom, weight) in other.terms {
            *self.terms.entry(atom).or_insert_with(Exact::zero) += weight;
        }
        self.terms.retain(|_, weight| !weight.is_zero());
        self
    }

    /// Takes the terms of one reading out: what remains, and the weight of that reading's one value.
    pub(crate) fn without(mut self, reading: ReadingId) -> (Self, Exact) {
        let weight = self.terms.iter().filter(|(atom, _)| atom.reading() == reading);
        let weight = weight.fold(Exact::zero(), |sum, (_, weight)| sum + weight);
        self.terms.retain(|atom, _| atom.reading() != reading);
        (self, weight)
    }

    /// Whether it turns on a reading.
    pub(crate) fn rests_on(&self, reading: ReadingId) -> bool {
        self.terms.keys().any(|atom| atom.reading() == reading)
    }

    /// What it may come to.
    pub(crate) fn possible(&self, knowns: &Knowns) -> Possible {
        let apart = self.possible_by_row(knowns).unwrap_or_else(|| self.possible_apart(knowns));
        let mut settled: Vec<Settled<'_>> = knowns.settled().collect();
        if settled.is_empty() {
            return apart;
        }
        settled.drain(..settled.len().saturating_sub(MOST_SETTLED));
        let bound = self.ends_within(knowns, &settled, MOST_AT_ONCE).range();
        // Where a bound leaves nothing, no way comes here: that is told elsewhere.
        match apart.within(&bound) {
            Some(range) => Possible { range, ..apart },
            None => apart,
        }
    }

    /// Its ends, as what was settled of other sums leaves them. A multiple of such a sum is taken away, and what remains is
    /// added to it again: whatever multiple that is, its ends bound it. The closest of them is one that takes a reading
    /// away, as everything between is linear.
    fn ends_within(&self, knowns: &Knowns, settled: &[Settled<'_>], at_once: usize) -> Ends {
        let mut ends = Ends::of(&self.possible_apart(knowns).range);
        if at_once == 0 {
            return ends;
        }
        for (at, (of, range)) in settled.iter().enumerate() {
            let factor = |(atom, weight)| Some(self.terms.get(atom)? / weight);
            let factors: BTreeSet<Exact> = of.terms.iter().filter_map(factor).collect();
            let others: Vec<Settled<'_>> = settled
                .iter()
                .enumerate()
                .filter(|(other, _)| *other != at)
                .map(|(_, one)| *one)
                .collect();
            for factor in factors {
                let rest = self.clone().plus((*of).clone().times(&-factor.clone()));
                let rest = rest.ends_within(knowns, &others, at_once - 1);
                ends = ends.met(&Ends::of(range).times(&factor).plus(&rest));
            }
        }
        ends
    }

    /// Where something that a table chose stands beside the reading that it was chosen by, row by row: in
    /// none of them both take the ends that each has for itself.
    fn possible_by_row(&self, knowns: &Knowns) -> Option<Possible> {
        let readings: Vec<ReadingId> = self.terms.keys().map(|atom| atom.reading()).collect();
        let (chosen, table) = readings.iter().find_map(|id| {
            let table = knowns.get(*id)?.rows.as_ref()?;
            readings.contains(&table.by).then_some((*id, table))
        })?;
        let mut row_known: Knowns = readings
            .iter()
            .filter_map(|id| Some((*id, Known { rows: None, ..knowns.get(*id)?.clone() })))
            .collect();
        let all = row_known.get(table.by)?.possible.clone();
        let mut ends: Option<Ends> = None;
        for (range, value) in &table.rows {
            let Some(here) = all.within(range) else { continue };
            row_known.get_mut(table.by)?.possible = all.narrowed(&here);
            row_known.get_mut(chosen)?.possible = Possible::one_of([value]);
            let row = Ends::of(&self.possible_apart(&row_known).range);
            ends = Some(ends.map_or(row.clone(), |ends| ends.joined(&row)));
        }
        let grid = self.possible_apart(knowns).grid;
        Some(Possible { range: ends?.range(), grid })
    }

    fn possible_apart(&self, knowns: &Knowns) -> Possible {
        let fixed = self.constant.clone();
        let mut ends = Ends::just(fixed.clone());
        let mut origin = fixed;
        let mut step: Option<Exact> = None;
        let mut continuous = false;
        for (reading, share) in self.shares() {
            let Some(known) = knowns.get(reading) else { return Possible::default() };
            ends = ends.plus(&share.ends(known));
            match &known.possible.grid {
                Some(grid) => {
                    origin += share.total() * grid.origin();
                    for part in share.steps(known.points, grid.step()) {
                        step = Some(step.map_or(part.clone(), |step| common_step(&step, &part)));
                    }
                }
                None => continuous = true,
            }
        }
        let grid = step.filter(|_| !continuous).and_then(|step| Grid::new(origin, step));
        Possible { range: ends.range(), grid }
    }

    pub(super) fn shares(&self) -> BTreeMap<ReadingId, Share> {
        let mut shares: BTreeMap<ReadingId, Share> = BTreeMap::new();
        for (atom, weight) in &self.terms {
            let share = shares.entry(atom.reading()).or_default();
            match atom {
                Atom::Point(_, point) => {
                    share.points.insert(*point, weight.clone());
                }
                Atom::Max(_) => share.max = weight.clone(),
                Atom::Min(_) => share.min = weight.clone(),
                Atom::Mean(_) => share.mean = weight.clone(),
            }
        }
        shares
    }
}

/// The weights of one reading's values in a sum.
#[derive(Default)]
pub(super) struct Share {
    pub(super) max: Exact,
    pub(super) min: Exact,
    pub(super) mean: Exact,
    pub(super) points: BTreeMap<usize, Exact>,
}

impl Share {
    fn total(&self) -> Exact {
        self.points.values().fold(&self.max + &self.min + &self.mean, |sum, weight| sum + weight)
    }

    fn steps(&self, points: usize, step: &Exact) -> Vec<Exact> {
        let points = Exact::from_integer(points.max(1).into());
        let parts = [self.max.clone(), self.min.clone(), &self.mean / points];
        let all = parts.iter().chain(self.points.values()).filter(|weight| !weight.is_zero());
        all.map(|weight| weight.abs() * step).collect()
    }

    /// With every point between `low` and `high` this share is `total × low + (high - low) × V`,
    /// where V depends only on which points are high.
    fn ends(&self, known: &Known) -> Ends {
        let corners = self.corners(known.points.max(1));
        let total = self.total();
        let low = known.possible.range.lower.as_ref().map(|bound| bound.value.clone());
        let high = known.possible.range.upper.as_ref().map(|bound| bound.value.clone());
        match (low, high) {
            (Some(low), Some(high)) => {
                let (base, width) = (&total * &low, high - low);
                corners.times(&width).plus(&Ends::just(base))
            }
            (Some(low), None) => corners.stretched().plus(&Ends::just(&total * low)),
            (None, Some(high)) => {
                // Seen from the high end: `total × high - (high - low) × (total - V)`.
                let from_high = Ends::just(total.clone()).plus(&corners.times(&-Exact::one()));
                from_high.times(&-Exact::one()).stretched().plus(&Ends::just(&total * high))
            }
            (None, None) if total.is_zero() => corners.stretched(),
            (None, None) => Ends::default(),
        }
    }

    /// The least and greatest V over all choices of high points.
    fn corners(&self, points: usize) -> Ends {
        if self.points.is_empty() {
            let places = (0..=points).map(|high| self.fold_corner(high, points));
            return Ends::around(places);
        }
        if points > MOST_SINGLE_POINTS {
            // Wider than exact, never narrower: each weight for itself.
            let weights = [&self.max, &self.min, &self.mean];
            let all = weights.into_iter().chain(self.points.values());
            return all.fold(Ends::just(Exact::zero()), |ends, weight| {
                ends.plus(&Ends::around([Exact::zero(), weight.clone()]))
            });
        }
        let corner = |mask: usize| {
            let high = usize::try_from(mask.count_ones()).unwrap_or(points);
            let singles = self.points.iter().filter(|(point, _)| mask >> **point & 1 == 1);
            singles.fold(self.fold_corner(high, points), |sum, (_, weight)| sum + weight)
        };
        Ends::around((0..1usize << points).map(corner))
    }

    fn fold_corner(&self, high: usize, points: usize) -> Exact {
        let mut corner = &self.mean * Exact::new(high.into(), points.max(1).into());
        if high > 0 {
            corner += &self.max;
        }
        if high == points {
            corner += &self.min;
        }
        corner
    }
}

/// The greatest step that divides both, so that both lie on its grid.
pub(super) fn common_step(a: &Exact, b: &Exact) -> Exact {
    let (mut a, mut b) = (a.clone(), b.clone());
    while !b.is_zero() {
        let rest = &a - &b * (&a / &b).floor();
        a = b;
        b = rest;
    }
    a
}

/// The expression as a weighted sum; none where it is not one (a product of two readings).
pub(crate) fn linear(expression: &Expression, knowns: &Knowns) -> Option<Linear> {
    match expression {
        Expression::Value(quantity) => Some(Linear::fixed(quantity.value.clone())),
        Expression::Reading(reading) => one_value(*reading, 0, knowns),
        Expression::Point(reading, point) => one_value(*reading, *point, knowns),
        Expression::Negative(inner) => Some(linear(inner, knowns)?.times(&-Exact::one())),
        Expression::Binary(operator, left, right) => {
            let (left, right) = (linear(left, knowns)?, linear(right, knowns)?);
            match operator {
                Operator::Add => Some(left.plus(right)),
                Operator::Subtract => Some(left.plus(right.times(&-Exact::one()))),
                Operator::Multiply if right.terms.is_empty() => Some(left.times(&right.constant)),
                Operator::Multiply if left.terms.is_empty() => Some(right.times(&left.constant)),
                Operator::Divide if right.terms.is_empty() && !right.constant.is_zero() => {
                    Some(left.times(&right.constant.recip()))
                }
                Operator::Multiply | Operator::Divide => None,
            }
        }
        Expression::Fold(fold, parts) => folded(*fold, parts, knowns),
        Expression::LookUp(..) => None,
    }
}

/// A computed value stands for what it is computed from.
fn one_value(reading: ReadingId, point: usize, knowns: &Knowns) -> Option<Linear> {
    let known = knowns.get(reading)?;
    Some(known.sum.clone().unwrap_or_else(|| Linear::of(Atom::Point(reading, point))))
}

fn folded(fold: Fold, parts: &[Expression], knowns: &Knowns) -> Option<Linear> {
    let count: usize = parts.iter().map(|part| values_in(part, knowns)).sum();
    match fold {
        Fold::Count => Some(Linear::fixed(Exact::from_integer(count.into()))),
        Fold::Sum => summed(parts, knowns),
        Fold::Mean if count == 0 => None,
        Fold::Mean => Some(summed(parts, knowns)?.times(&Exact::new(1.into(), count.into()))),
        Fold::Max | Fold::Min | Fold::Spread => {
            let [part] = parts else { return None };
            let Some(reading) = several(part, knowns) else {
                let value = linear(part, knowns)?;
                return Some(if fold == Fold::Spread {
                    Linear::fixed(Exact::zero())
                } else {
                    value
                });
            };
            let (max, min) = (Linear::of(Atom::Max(reading)), Linear::of(Atom::Min(reading)));
            Some(match fold {
                Fold::Max => max,
                Fold::Min => min,
                Fold::Mean | Fold::Spread | Fold::Sum | Fold::Count | Fold::Abs => {
                    max.plus(min.times(&-Exact::one()))
                }
            })
        }
        Fold::Abs => None,
    }
}

fn summed(parts: &[Expression], knowns: &Knowns) -> Option<Linear> {
    let mut sum = Linear::fixed(Exact::zero());
    for part in parts {
        let part = match several(part, knowns) {
            Some(reading) => {
                let points = Exact::from_integer(values_in(part, knowns).into());
                Linear::of(Atom::Mean(reading)).times(&points)
            }
            None => linear(part, knowns)?,
        };
        sum = sum.plus(part);
    }
    Some(sum)
}

/// The reading, where the part is one with several points.
fn several(part: &Expression, knowns: &Knowns) -> Option<ReadingId> {
    let Expression::Reading(reading) = part else { return None };
    knowns.get(*reading).filter(|known| known.points > 1).map(|_| *reading)
}

fn values_in(part: &Expression, knowns: &Knowns) -> usize {
    several(part, knowns).and_then(|reading| knowns.get(reading)).map_or(1, |known| known.points)
}
