//! The least and the greatest that an expression may come to.

use super::linear::linear;
use super::pieces::pieces;
use super::quotient::quotient_ends;
use super::{Knowns, Possible};
use locknut_graph::{Expression, Fold, Operator};
use locknut_quantity::{Bound, Exact, Range};
use num_traits::{One, Signed, Zero};

/// What an expression may come to; wider than exact where it is no weighted sum, never narrower.
pub(crate) fn possible(expression: &Expression, knowns: &Knowns) -> Possible {
    let mut all = pieces(expression, knowns).into_iter().map(|piece| piece.possible);
    let Some(first) = all.next() else { return Possible::default() };
    all.fold(first, |one, other| Possible {
        range: Ends::of(&one.range).joined(&Ends::of(&other.range)).range(),
        grid: None,
    })
}

pub(super) fn ends(expression: &Expression, knowns: &Knowns) -> Ends {
    if let Some(sum) = linear(expression, knowns) {
        return Ends::of(&sum.possible(knowns).range);
    }
    if let Expression::Binary(Operator::Divide, of, by) = expression
        && let Some(quotient) = quotient_ends(of, by, knowns)
    {
        return quotient;
    }
    match expression {
        Expression::Value(quantity) => Ends::just(quantity.value.clone()),
        Expression::Reading(reading) | Expression::Point(reading, _) => {
            knowns.get(*reading).map_or_else(Ends::default, |known| Ends::of(&known.possible.range))
        }
        Expression::Negative(inner) => ends(inner, knowns).times(&-Exact::one()),
        Expression::Binary(operator, left, right) => {
            let (left, right) = (ends(left, knowns), ends(right, knowns));
            match operator {
                Operator::Add => left.plus(&right),
                Operator::Subtract => left.plus(&right.times(&-Exact::one())),
                Operator::Multiply => left.multiplied(&right),
                Operator::Divide => left.divided(&right),
            }
        }
        Expression::Fold(fold, parts) => fold_ends(*fold, parts, knowns),
        Expression::LookUp(table, end, of) => {
            let of = ends(of, knowns);
            let over = of.low.zip(of.high).and_then(|(low, high)| table.over(*end, &low, &high));
            over.map_or_else(Ends::default, |(least, greatest)| Ends {
                low: Some(least),
                high: Some(greatest),
            })
        }
    }
}

fn fold_ends(fold: Fold, parts: &[Expression], knowns: &Knowns) -> Ends {
    let all: Vec<Ends> = parts.iter().map(|part| ends(part, knowns)).collect();
    // A known greatest low end holds even where another part has none.
    let lows = || all.iter().filter_map(|ends| ends.low.clone());
    let highs = || all.iter().filter_map(|ends| ends.high.clone());
    let all_low = all.iter().all(|ends| ends.low.is_some());
    let all_high = all.iter().all(|ends| ends.high.is_some());
    let least = lows().min().filter(|_| all_low);
    let greatest = highs().max().filter(|_| all_high);
    match fold {
        Fold::Max => Ends { low: lows().max(), high: greatest },
        Fold::Min => Ends { low: least, high: highs().min() },
        Fold::Mean => Ends { low: least, high: greatest },
        Fold::Spread => {
            let high = least.zip(greatest).map(|(least, greatest)| greatest - least);
            Ends { low: Some(Exact::zero()), high }
        }
        Fold::Abs => all.first().map_or_else(Ends::default, Ends::abs),
        // Several points of a part that is no sum cannot be told apart here.
        Fold::Sum | Fold::Count => Ends::default(),
    }
}

/// The least and the greatest value; an end left out is unbounded.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Ends {
    pub(super) low: Option<Exact>,
    pub(super) high: Option<Exact>,
}

impl Ends {
    pub(super) fn just(value: Exact) -> Self {
        Self { low: Some(value.clone()), high: Some(value) }
    }

    pub(super) fn of(range: &Range) -> Self {
        let value = |bound: &Bound| bound.value.clone();
        Self { low: range.lower.as_ref().map(value), high: range.upper.as_ref().map(value) }
    }

    pub(super) fn around(values: impl IntoIterator<Item = Exact>) -> Self {
        let all: Vec<Exact> = values.into_iter().collect();
        Self { low: all.iter().min().cloned(), high: all.iter().max().cloned() }
    }

    pub(super) fn plus(&self, other: &Self) -> Self {
        let add = |a: &Option<Exact>, b: &Option<Exact>| Some(a.as_ref()? + b.as_ref()?);
        Self { low: add(&self.low, &other.low), high: add(&self.high, &other.high) }
    }

    pub(super) fn times(&self, factor: &Exact) -> Self {
        let scale = |end: &Option<Exact>| end.as_ref().map(|end| end * factor);
        if factor.is_zero() {
            Self::just(Exact::zero())
        } else if factor.is_negative() {
            Self { low: scale(&self.high), high: scale(&self.low) }
        } else {
            Self { low: scale(&self.low), high: scale(&self.high) }
        }
    }

    /// What lies in either.
    pub(super) fn joined(&self, other: &Self) -> Self {
        let low = self.low.as_ref().zip(other.low.as_ref()).map(|(a, b)| a.min(b).clone());
        let high = self.high.as_ref().zip(other.high.as_ref()).map(|(a, b)| a.max(b).clone());
        Self { low, high }
    }

    /// What lies in both.
    pub(super) fn met(&self, other: &Self) -> Self {
        let either = |one: &Option<Exact>,
                      other: &Option<Exact>,
                      meet: fn(Exact, Exact) -> Exact| match (one, other) {
            (Some(one), Some(other)) => Some(meet(one.clone(), other.clone())),
            (one, other) => one.clone().or_else(|| other.clone()),
        };
        Self {
            low: either(&self.low, &other.low, Exact::max),
            high: either(&self.high, &other.high, Exact::min),
        }
    }

    /// Times every factor from zero up.
    pub(super) fn stretched(&self) -> Self {
        let flat = |end: &Option<Exact>, grows: fn(&Exact) -> bool| {
            end.as_ref().filter(|end| !grows(end)).map(|_| Exact::zero())
        };
        Self {
            low: flat(&self.low, Signed::is_negative),
            high: flat(&self.high, Signed::is_positive),
        }
    }

    fn multiplied(&self, other: &Self) -> Self {
        let (Some(a), Some(b), Some(c), Some(d)) = (&self.low, &self.high, &other.low, &other.high)
        else {
            return Self::default();
        };
        Self::around([a * c, a * d, b * c, b * d])
    }

    fn divided(&self, other: &Self) -> Self {
        let (Some(low), Some(high)) = (&other.low, &other.high) else { return Self::default() };
        if !low.is_positive() && !high.is_negative() {
            return Self::default();
        }
        self.multiplied(&Self::around([low.recip(), high.recip()]))
    }

    fn abs(&self) -> Self {
        match (&self.low, &self.high) {
            (Some(low), _) if !low.is_negative() => self.clone(),
            (_, Some(high)) if !high.is_positive() => self.times(&-Exact::one()),
            (Some(low), Some(high)) => {
                Self { low: Some(Exact::zero()), high: Some(low.abs().max(high.clone())) }
            }
            _ => Self { low: Some(Exact::zero()), high: None },
        }
    }

    pub(super) fn range(&self) -> Range {
        let bound = |end: &Option<Exact>| {
            end.as_ref().map(|value| Bound { value: value.clone(), closed: true })
        };
        Range { lower: bound(&self.low), upper: bound(&self.high) }
    }
}
