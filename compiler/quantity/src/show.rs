//! Values in a reader's unit: never rounded outside the written limits.

use crate::{Exact, Limit, Quantity, Range, Unit, UnitId, Units};
use num_traits::Signed;

/// Which way a number is rounded to fewer digits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rounding {
    /// To the nearest, half to even.
    Nearest,
    /// Towards greater values: for a lower limit.
    Up,
    /// Towards lesser values: for an upper limit.
    Down,
}

/// A system of units that a reader prefers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum System {
    /// SI and the units used with it.
    Si,
    /// US customary.
    Us,
}

/// A value as a reader sees it. Digits are ASCII; the sheet localises the point.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    /// The digits, e.g. `0.014`.
    pub digits: String,
    /// The unit they are in.
    pub unit: UnitId,
    /// How many digits stand after the point.
    pub decimals: u32,
    /// What the digits say, in base units.
    pub value: Exact,
}

/// A quantity in the reader's system (none: as written), rounded to nearest.
pub fn show(units: &Units, quantity: &Quantity, system: Option<System>) -> Shown {
    let (unit, decimals) = target(units, quantity.unit, quantity.decimals, system);
    shown(units, &quantity.value, unit, decimals, Rounding::Nearest)
}

/// The ends of a limit in the reader's system, rounded inward; digits are added until it is not empty.
pub fn show_range(
    units: &Units,
    limit: &Limit,
    system: Option<System>,
) -> (Option<Shown>, Option<Shown>) {
    let (unit, mut decimals) = target(units, limit.unit, limit.decimals, system);
    while inward(&limit.range, units.unit(unit), decimals).is_none() && decimals < 12 {
        decimals += 1;
    }
    let lower = limit.range.lower.as_ref();
    let upper = limit.range.upper.as_ref();
    (
        lower.map(|bound| shown(units, &bound.value, unit, decimals, Rounding::Up)),
        upper.map(|bound| shown(units, &bound.value, unit, decimals, Rounding::Down)),
    )
}

/// The ends of a range in a unit, rounded inward to so many digits; none where nothing is left.
pub fn inward(
    range: &Range,
    unit: &Unit,
    decimals: u32,
) -> Option<(Option<Exact>, Option<Exact>)> {
    let end = |value: &Exact, rounding| round(&in_unit(value, unit), decimals, rounding);
    let lower = range.lower.as_ref().map(|bound| end(&bound.value, Rounding::Up));
    let upper = range.upper.as_ref().map(|bound| end(&bound.value, Rounding::Down));
    match (&lower, &upper) {
        (Some(lower), Some(upper)) if lower > upper => None,
        _ => Some((lower, upper)),
    }
}

fn target(units: &Units, unit: UnitId, decimals: u32, system: Option<System>) -> (UnitId, u32) {
    let written = units.unit(unit);
    match (system, written.system, written.counterpart) {
        (Some(wanted), Some(own), Some(other)) if wanted != own => {
            (other, decimals_for(written, units.unit(other), decimals))
        }
        _ => (unit, decimals),
    }
}

/// As many digits as keep the author's last digit: one step there is at most one step here.
fn decimals_for(from: &Unit, to: &Unit, decimals: u32) -> u32 {
    let ten = Exact::from_integer(10.into());
    let mut step = &from.factor / &to.factor;
    for _ in 0..decimals {
        step /= &ten;
    }
    let mut wanted = 0;
    let mut place = Exact::from_integer(1.into());
    while place > step.abs() && wanted < 12 {
        place /= &ten;
        wanted += 1;
    }
    wanted
}

fn shown(units: &Units, value: &Exact, unit: UnitId, decimals: u32, rounding: Rounding) -> Shown {
    let number = in_unit(value, units.unit(unit));
    let rounded = round(&number, decimals, rounding);
    let to = units.unit(unit);
    Shown {
        digits: decimal(&number, decimals, rounding),
        unit,
        decimals,
        value: &rounded * &to.factor + &to.zero,
    }
}

fn in_unit(value: &Exact, unit: &Unit) -> Exact {
    (value - &unit.zero) / &unit.factor
}

fn round(value: &Exact, decimals: u32, rounding: Rounding) -> Exact {
    let scale = Exact::from_integer(num_bigint::BigInt::from(10).pow(decimals));
    let scaled = value * &scale;
    let whole = match rounding {
        Rounding::Up => scaled.ceil(),
        Rounding::Down => scaled.floor(),
        Rounding::Nearest => half_to_even(&scaled),
    };
    whole / scale
}

fn half_to_even(value: &Exact) -> Exact {
    let half = Exact::new(1.into(), 2.into());
    let floor = value.floor();
    let rest = value - &floor;
    let odd = !(&floor / Exact::from_integer(2.into())).is_integer();
    if rest > half || (rest == half && odd) { floor + Exact::from_integer(1.into()) } else { floor }
}

pub(crate) fn decimal(value: &Exact, decimals: u32, rounding: Rounding) -> String {
    let rounded = round(value, decimals, rounding);
    let scale = Exact::from_integer(num_bigint::BigInt::from(10).pow(decimals));
    let digits = (rounded.abs() * scale).to_integer().to_string();
    let places = usize::try_from(decimals).unwrap_or(0);
    let padded = format!("{digits:0>width$}", width = places + 1);
    let (whole, fraction) = padded.split_at(padded.len() - places);
    let sign = if rounded.is_negative() { "-" } else { "" };
    if places == 0 { format!("{sign}{whole}") } else { format!("{sign}{whole}.{fraction}") }
}
