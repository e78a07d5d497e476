//! Exact numbers, kinds, units, ranges; conversion that never rounds outward.
//!
//! In: numbers as written and the units that a vocabulary declares. Out: exact rational values in
//! the base unit of their kind, and their words in a reader's unit. The interesting idea: a *kind*
//! is more than a dimension, so a torque is not an energy and 20 °C is not a rise of 20 °C.
//!
//! *It does not know* where a number was written, nor any unit by itself: the standard library
//! declares them.
//!
//! | to | see |
//! |---|---|
//! | read `22 N·m` or `2.5 bar gauge` | [`Units::read`], [`Units::meant`] |
//! | keep a limit, a tolerance, an interval | [`Range`] |
//! | count on an instrument's own digits | [`Grid`] |
//! | bound a root, or a sum with π | [`Between`] |
//! | turn an angle into a direction | [`sine_and_cosine`] |
//! | round one number | [`Rounding`] |
//! | say a value in the reader's units | [`show`], [`show_range`] |

mod angle;
mod between;
mod dimension;
mod dyadic;
mod exact;
mod grid;
mod range;
mod round;
mod show;
mod units;
#[cfg(test)]
mod vocabulary;

pub use angle::sine_and_cosine;
pub use between::Between;
pub use dimension::Dimension;
pub use exact::{Exact, grouped, parse_exact, to_decimal, to_decimal_beside, to_digits};
pub use grid::Grid;
pub use range::{Bound, Range};
pub use round::{Rounding, inward, inward_to};
pub use show::{Shown, decimals_in, show, show_arm, show_range};
pub use units::{Kind, KindId, ReadProblem, System, Unit, UnitId, UnitProblem, Units};

/// A value with its kind, exact, and as its author wrote it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Quantity {
    /// In the base unit of its kind.
    pub value: Exact,
    /// What it is a value of.
    pub kind: KindId,
    /// The unit it was written in.
    pub unit: UnitId,
    /// How many digits its author wrote after the point.
    pub decimals: u32,
    /// As written: `0.35 mm`.
    pub written: String,
}

/// A limit or range with its kind, exact, and as its author wrote it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Limit {
    /// In the base unit of its kind.
    pub range: Range,
    /// What it limits.
    pub kind: KindId,
    /// The unit it was written in.
    pub unit: UnitId,
    /// The most digits its author wrote after the point.
    pub decimals: u32,
    /// As written: `at most 0.15 mm`, `22 ± 2 N·m`.
    pub written: String,
}
