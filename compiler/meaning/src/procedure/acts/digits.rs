//! In which unit and with how many digits a worked-out value is shown.

use super::super::coverage::Possible;
use super::super::laying::Laying;
use locknut_graph::{Between, Expression, Fold, Operator};
use locknut_quantity::{Exact, Limit, UnitId, Units};
use num_traits::One;

/// A worked-out value is shown with at most so many digits after the point.
const MOST_DECIMALS: u32 = 6;

/// So many digits more than its readings have are shown where they tell all of it.
const MORE_DECIMALS: u32 = 2;

/// How a worked-out value is shown.
pub(super) struct Digits {
    pub(super) unit: UnitId,
    pub(super) decimals: u32,
    /// It may have more digits than that.
    pub(super) rounded: bool,
}

/// The value stands beside its limit, so it is told in the limit's unit.
pub(super) fn of(
    laying: &Laying<'_>,
    value: &Expression,
    unit: UnitId,
    limits: &[&Limit],
    possible: &Possible,
) -> Digits {
    let units = &laying.world.units;
    let of_limit = limits.first().map_or(unit, |limit| limit.unit);
    let decimals = decimals(laying, value, unit, limits);
    let turned = locknut_quantity::decimals_in(units, unit, decimals, of_limit);
    let written = limits.iter().filter(|limit| limit.unit == of_limit).map(|limit| limit.decimals);
    let decimals = turned.max(written.max().unwrap_or(0)).min(MOST_DECIMALS);
    let Some(grid) = &possible.grid else {
        let turned = of_limit != unit;
        let rests_on_rounded = value.readings().iter().any(|id| laying.rounded.contains(id));
        let rounded = turned || rests_on_rounded || divides(value);
        return Digits { unit: of_limit, decimals, rounded };
    };
    let unit = units.unit(of_limit);
    let (origin, step) = ((grid.origin() - &unit.zero) / &unit.factor, grid.step() / &unit.factor);
    let mut enough = (decimals..=MOST_DECIMALS.min(decimals + MORE_DECIMALS)).filter(|decimals| {
        let ten = Exact::from_integer(10.into());
        let scale = (0..*decimals).fold(Exact::one(), |scale, _| scale * &ten);
        (&origin * &scale).is_integer() && (&step * &scale).is_integer()
    });
    let exact = enough.next();
    Digits { unit: of_limit, decimals: exact.unwrap_or(decimals), rounded: exact.is_none() }
}

/// Whether what is worked out may have more digits than the readings that it is worked out from.
fn divides(value: &Expression) -> bool {
    match value {
        Expression::Value(_) | Expression::Reading(_) | Expression::Point(..) => false,
        Expression::Negative(inner) => divides(inner),
        Expression::LookUp(table, _, of) => table.between == Between::Proportion || divides(of),
        Expression::Binary(Operator::Multiply | Operator::Divide, ..)
        | Expression::Fold(Fold::Mean, _) => true,
        Expression::Binary(Operator::Add | Operator::Subtract, left, right) => {
            divides(left) || divides(right)
        }
        Expression::Fold(_, parts) => parts.iter().any(divides),
    }
}

/// Enough digits for every reading and limit in it; a mean or what lies between two rows of a table gets one more.
fn decimals(laying: &Laying<'_>, value: &Expression, unit: UnitId, limits: &[&Limit]) -> u32 {
    let of_limits = limits.iter().filter(|limit| limit.unit == unit).map(|limit| limit.decimals);
    let of_parts =
        decimals_in(laying, value).max(if unit == Units::ONE { of_ratio(value) } else { 0 });
    of_limits.max().unwrap_or(0).max(of_parts).min(MOST_DECIMALS)
}

/// How many times one reading holds another is told to a thousandth.
fn of_ratio(value: &Expression) -> u32 {
    match value {
        Expression::Binary(Operator::Divide, _, by) if !by.readings().is_empty() => 3,
        Expression::Binary(_, left, right) => of_ratio(left).max(of_ratio(right)),
        Expression::Negative(inner) => of_ratio(inner),
        Expression::Fold(_, parts) => parts.iter().map(of_ratio).max().unwrap_or(0),
        Expression::Value(_)
        | Expression::Reading(_)
        | Expression::Point(..)
        | Expression::LookUp(..) => 0,
    }
}

fn decimals_in(laying: &Laying<'_>, value: &Expression) -> u32 {
    let of_reading = |reading: locknut_graph::ReadingId| {
        let reading = laying.build.readings.get(usize::from(reading.0));
        match reading.map(|reading| &reading.kind) {
            Some(locknut_graph::ReadingKind::Quantity { decimals, .. }) => *decimals,
            _ => 0,
        }
    };
    match value {
        Expression::Value(quantity) => quantity.decimals,
        Expression::Reading(reading) | Expression::Point(reading, _) => of_reading(*reading),
        Expression::Negative(inner) => decimals_in(laying, inner),
        Expression::LookUp(table, ..) => {
            let of_rows = table.rows.iter().map(|(_, value)| value.decimals).max().unwrap_or(0);
            of_rows + u32::from(table.between == Between::Proportion)
        }
        Expression::Binary(operator, left, right) => {
            let most = decimals_in(laying, left).max(decimals_in(laying, right));
            most + u32::from(*operator == Operator::Divide)
        }
        Expression::Fold(fold, parts) => {
            let most = parts.iter().map(|part| decimals_in(laying, part)).max().unwrap_or(0);
            match fold {
                Fold::Mean => most + 1,
                Fold::Count => 0,
                Fold::Max | Fold::Min | Fold::Spread | Fold::Sum | Fold::Abs => most,
            }
        }
    }
}
