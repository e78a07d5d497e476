//! The evenly spaced values that an expression keeps to where it is no weighted sum.

use super::Knowns;
use super::linear::{common_step, linear};
use locknut_graph::{Expression, Fold, Operator};
use locknut_quantity::{Exact, Grid};
use num_traits::{Signed, Zero};

/// The digits that every value of an expression lies on; none where it may come to anything, or to one value only.
pub(super) fn digits(expression: &Expression, knowns: &Knowns) -> Option<Grid> {
    let Digits { from, step } = Digits::of(expression, knowns)?;
    Grid::new(from, step?)
}

/// `from + k × step`; without a step just `from`.
struct Digits {
    from: Exact,
    step: Option<Exact>,
}

impl Digits {
    fn of(expression: &Expression, knowns: &Knowns) -> Option<Self> {
        if let Some(sum) = linear(expression, knowns) {
            if sum.terms.is_empty() {
                return Some(Self { from: sum.constant, step: None });
            }
            let grid = sum.possible(knowns).grid?;
            return Some(Self { from: grid.origin().clone(), step: Some(grid.step().clone()) });
        }
        match expression {
            Expression::Negative(inner) => Some(Self::of(inner, knowns)?.turned()),
            Expression::Binary(Operator::Add, one, other) => {
                Some(Self::of(one, knowns)?.plus(Self::of(other, knowns)?))
            }
            Expression::Binary(Operator::Subtract, one, other) => {
                Some(Self::of(one, knowns)?.plus(Self::of(other, knowns)?.turned()))
            }
            Expression::Fold(Fold::Abs, parts) => {
                let part = Self::of(parts.first()?, knowns)?;
                let turned = Self { from: -&part.from, step: part.step.clone() };
                Some(part.or(turned))
            }
            Expression::Fold(Fold::Max | Fold::Min, parts) => {
                let all: Option<Vec<Self>> =
                    parts.iter().map(|part| Self::of(part, knowns)).collect();
                all?.into_iter().reduce(Self::or)
            }
            Expression::Value(_)
            | Expression::Reading(_)
            | Expression::Point(..)
            | Expression::Fold(Fold::Mean | Fold::Spread | Fold::Sum | Fold::Count, _)
            | Expression::Binary(Operator::Multiply | Operator::Divide, ..)
            | Expression::LookUp(..) => None,
        }
    }

    fn turned(self) -> Self {
        Self { from: -self.from, step: self.step }
    }

    fn plus(self, other: Self) -> Self {
        Self { from: self.from + other.from, step: common(self.step, other.step) }
    }

    /// What lies on either.
    fn or(self, other: Self) -> Self {
        let apart = Some((&self.from - other.from).abs()).filter(|apart| !apart.is_zero());
        Self { from: self.from, step: common(common(self.step, other.step), apart) }
    }
}

fn common(one: Option<Exact>, other: Option<Exact>) -> Option<Exact> {
    match (one, other) {
        (Some(one), Some(other)) => Some(common_step(&one, &other)),
        (one, other) => one.or(other),
    }
}
