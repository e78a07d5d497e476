//! Ranges and values in words, for messages: exact, in a unit that the author knows.

use crate::world::Instrument;
use locknut_quantity::{Exact, KindId, Limit, Quantity, Range, UnitId, Units, to_decimal};

/// A number is said with at most so many digits after the point; a third of a hundredth goes on for
/// ever.
pub(super) const MOST_DECIMALS: u32 = 5;

/// What a figure is said in: a unit, and the kind that may want a word behind it, as in `bar gauge`.
#[derive(Clone, Copy)]
pub(super) struct In {
    pub(super) unit: UnitId,
    pub(super) kind: KindId,
}

impl In {
    /// A unit without such a word: of a difference, or of whatever it is a unit of by itself.
    pub(super) fn bare(units: &Units, unit: UnitId) -> Self {
        Self { unit, kind: units.unit(unit).kind }
    }
}

impl From<&Limit> for In {
    fn from(limit: &Limit) -> Self {
        Self { unit: limit.unit, kind: limit.kind }
    }
}

impl From<&Quantity> for In {
    fn from(quantity: &Quantity) -> Self {
        Self { unit: quantity.unit, kind: quantity.kind }
    }
}

impl From<&Instrument> for In {
    fn from(instrument: &Instrument) -> Self {
        Self { unit: instrument.unit, kind: instrument.kind }
    }
}

/// `0.81 .. 0.89 mm`, `over 0.80 mm`, `at most 0.2 mm`, `0.35 mm`.
pub(super) fn range(
    units: &Units,
    range: &Range,
    said_in: impl Into<In>,
    least_decimals: u32,
) -> String {
    let said_in = said_in.into();
    let number = |value: &Exact| digits(units, value, said_in.unit, least_decimals);
    let mark = mark(units, said_in);
    match (&range.lower, &range.upper) {
        (None, None) => "anything".to_owned(),
        (Some(lower), None) => {
            format!(
                "{} {}{mark}",
                if lower.closed { "at least" } else { "over" },
                number(&lower.value)
            )
        }
        (None, Some(upper)) => {
            format!(
                "{} {}{mark}",
                if upper.closed { "at most" } else { "under" },
                number(&upper.value)
            )
        }
        (Some(lower), Some(upper)) if lower.value == upper.value => {
            format!("{}{mark}", number(&lower.value))
        }
        (Some(lower), Some(upper)) => {
            let (from, to) = (number(&lower.value), number(&upper.value));
            match (lower.closed, upper.closed) {
                (true, true) => format!("{from} .. {to}{mark}"),
                (false, true) => format!("over {from} to {to}{mark}"),
                (true, false) => format!("{from} to under {to}{mark}"),
                (false, false) => format!("over {from} to under {to}{mark}"),
            }
        }
    }
}

/// `0.35 mm`.
pub(super) fn value(
    units: &Units,
    value: &Exact,
    said_in: impl Into<In>,
    least_decimals: u32,
) -> String {
    let said_in = said_in.into();
    format!("{}{}", digits(units, value, said_in.unit, least_decimals), mark(units, said_in))
}

/// As many digits as say it exactly, where that is not too many.
fn digits(units: &Units, value: &Exact, unit: UnitId, least_decimals: u32) -> String {
    let number = in_unit(units, value, unit);
    to_decimal(&number, decimals(&number).unwrap_or(MOST_DECIMALS).max(least_decimals))
}

/// The value as a number of units.
pub(super) fn in_unit(units: &Units, value: &Exact, unit: UnitId) -> Exact {
    let unit = units.unit(unit);
    (value - &unit.zero) / &unit.factor
}

/// How many digits after the point say a number exactly; none where more than a few are needed.
pub(super) fn decimals(number: &Exact) -> Option<u32> {
    let ten = Exact::from_integer(10.into());
    let mut scaled = number.clone();
    for decimals in 0..=MOST_DECIMALS {
        if scaled.is_integer() {
            return Some(decimals);
        }
        scaled *= &ten;
    }
    None
}

fn mark(units: &Units, said_in: In) -> String {
    let unit = units.unit(said_in.unit);
    let mark = match unit.name.as_str() {
        "" => String::new(),
        name if unit.close => name.to_owned(),
        name => format!(" {name}"),
    };
    match &units.kind(said_in.kind).qualifier {
        Some(word) => format!("{mark} {word}"),
        None => mark,
    }
}
