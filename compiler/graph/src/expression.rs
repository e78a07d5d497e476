//! What is worked out from readings.

use crate::{ReadingId, Table, TableEnd};
use locknut_quantity::{Exact, Quantity};
use num_traits::Zero;
use std::collections::BTreeSet;
use std::sync::Arc;

/// An expression over readings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Expression {
    /// A fixed quantity.
    Value(Quantity),
    /// A reading's one value, a check's result, a choice's member; inside a fold all its points.
    Reading(ReadingId),
    /// One point of a reading.
    Point(ReadingId, usize),
    /// `max(gap)`, `mean(a, b)`
    Fold(Fold, Vec<Expression>),
    /// `a + b`
    Binary(Operator, Box<Expression>, Box<Expression>),
    /// `-a`
    Negative(Box<Expression>),
    /// `stay-tension(air)`: one end of what a table gives.
    LookUp(Arc<Table>, TableEnd, Box<Expression>),
}

impl Expression {
    /// Whether it counts values rather than works with them.
    pub fn counts(&self) -> bool {
        match self {
            Self::Value(_) | Self::Reading(_) | Self::Point(..) => false,
            Self::Fold(fold, parts) => *fold == Fold::Count || parts.iter().any(Self::counts),
            Self::Binary(_, left, right) => left.counts() || right.counts(),
            Self::Negative(inner) | Self::LookUp(_, _, inner) => inner.counts(),
        }
    }

    /// The readings in it.
    pub fn readings(&self) -> BTreeSet<ReadingId> {
        match self {
            Self::Value(_) => BTreeSet::new(),
            Self::Reading(reading) | Self::Point(reading, _) => BTreeSet::from([*reading]),
            Self::Fold(_, parts) => parts.iter().flat_map(Self::readings).collect(),
            Self::Binary(_, left, right) => &left.readings() | &right.readings(),
            Self::Negative(inner) | Self::LookUp(_, _, inner) => inner.readings(),
        }
    }
}

/// Folds over several values.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fold {
    /// The greatest.
    Max,
    /// The least.
    Min,
    /// The arithmetic mean.
    Mean,
    /// Greatest less least.
    Spread,
    /// All added up.
    Sum,
    /// How many.
    Count,
    /// Without its sign; one value.
    Abs,
}

/// Arithmetic.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Operator {
    /// `+`
    Add,
    /// `-`
    Subtract,
    /// `*`
    Multiply,
    /// `/`
    Divide,
}

impl Operator {
    /// What two numbers come to; none where it divides by nought.
    pub fn of(self, left: Exact, right: Exact) -> Option<Exact> {
        match self {
            Self::Add => Some(left + right),
            Self::Subtract => Some(left - right),
            Self::Multiply => Some(left * right),
            Self::Divide if right.is_zero() => None,
            Self::Divide => Some(left / right),
        }
    }
}
