//! The one number by which a fitter looks up what to choose, where several points or readings decide together.

use super::super::coverage::linear;
use super::super::laying::Laying;
use locknut_graph::{ChoiceKey, Expression, Operator, ReadingId, ReadingKind};
use locknut_quantity::{Exact, UnitId, Units};
use num_traits::One;

/// A mean of four readings in hundredths needs two digits more; nobody works out more by hand.
const MORE_DIGITS: u32 = 2;

/// What is left of the result without what is chosen; none where that is no sum, is told in several units, or has too
/// many digits (the mean of three points).
pub(super) fn key(
    laying: &Laying<'_>,
    value: &Expression,
    chosen: ReadingId,
    unit: UnitId,
) -> Option<ChoiceKey> {
    let (bare, weight) = linear(value, &laying.knowns)?.without(chosen);
    let units = &laying.world.units;
    let of = units.unit(unit).kind;
    // Of points on a scale no sums are worked out.
    let plain = units.difference_of(of) == of;
    let left = without(value, chosen).filter(|_| plain)?;
    let alone = linear(&left, &laying.knowns)?;
    let same = alone.constant == bare.constant && alone.terms == bare.terms;
    if !same || !in_one_unit(laying, &left, unit) {
        return None;
    }
    // Nobody works out a figure with its sign turned round where the figure itself will do.
    let (left, counts) = match left {
        Expression::Negative(inner) => (*inner, -Exact::one()),
        Expression::Value(_)
        | Expression::Reading(_)
        | Expression::Point(..)
        | Expression::Binary(..)
        | Expression::Fold(..)
        | Expression::LookUp(..) => (left, Exact::one()),
    };
    let possible = linear(&left, &laying.knowns)?.possible(&laying.knowns);
    let grid = possible.grid?;
    let range = grid.draw_in(&possible.range);
    let (first, _) = range.lower.as_ref().zip(range.upper.as_ref())?;
    let most = decimals_of(laying, &left) + MORE_DIGITS;
    let decimals = (0..=most).find(|decimals| {
        let exact = |value: &Exact| says_all(units, unit, value, *decimals);
        exact(grid.step()) && exact(&first.value)
    })?;
    Some(ChoiceKey { value: left, counts, weight, grid, range, unit, decimals })
}

fn says_all(units: &Units, unit: UnitId, value: &Exact, decimals: u32) -> bool {
    let ten = Exact::from_integer(10.into());
    let digits = (0..decimals).fold(Exact::from_integer(1.into()), |digits, _| digits * &ten);
    (value / &units.unit(unit).factor * digits).is_integer()
}

/// `gap - size` without `size`; none where it stands inside of something else.
fn without(value: &Expression, chosen: ReadingId) -> Option<Expression> {
    if !value.readings().contains(&chosen) {
        return Some(value.clone());
    }
    let Expression::Binary(operator, left, right) = value else { return None };
    let alone = |part: &Expression| {
        let readings = part.readings();
        readings.contains(&chosen) && readings.iter().all(|one| *one == chosen)
    };
    match operator {
        Operator::Add | Operator::Subtract if alone(right) => without(left, chosen),
        Operator::Add if alone(left) => without(right, chosen),
        Operator::Subtract if alone(left) => {
            Some(Expression::Negative(Box::new(without(right, chosen)?)))
        }
        Operator::Add | Operator::Subtract => {
            let side = |part: &Expression| without(part, chosen).map(Box::new);
            Some(Expression::Binary(*operator, side(left)?, side(right)?))
        }
        Operator::Multiply | Operator::Divide => None,
    }
}

/// Whether every figure in it is told in this unit, or is a bare number.
fn in_one_unit(laying: &Laying<'_>, value: &Expression, unit: UnitId) -> bool {
    let fits = |id: &ReadingId| {
        let reading = laying.build.readings.get(usize::from(id.0));
        reading.is_some_and(|reading| unit_of(&reading.kind) == Some(unit))
    };
    value.readings().iter().all(fits) && figures_fit(value, unit)
}

fn figures_fit(value: &Expression, unit: UnitId) -> bool {
    match value {
        Expression::Value(figure) => figure.unit == unit || figure.kind == Units::NUMBER,
        Expression::Reading(_) | Expression::Point(..) => true,
        Expression::Negative(inner) => figures_fit(inner, unit),
        Expression::Binary(_, left, right) => figures_fit(left, unit) && figures_fit(right, unit),
        Expression::Fold(_, parts) => parts.iter().all(|part| figures_fit(part, unit)),
        Expression::LookUp(..) => false,
    }
}

/// With how many digits its readings are read.
fn decimals_of(laying: &Laying<'_>, value: &Expression) -> u32 {
    let readings = value.readings().into_iter();
    let of = readings.filter_map(|id| laying.build.readings.get(usize::from(id.0)));
    let decimals = of.filter_map(|reading| match &reading.kind {
        ReadingKind::Quantity { decimals, .. } => Some(*decimals),
        ReadingKind::Answer { .. }
        | ReadingKind::Serial
        | ReadingKind::Date
        | ReadingKind::Text => None,
    });
    decimals.max().unwrap_or(0)
}

fn unit_of(kind: &ReadingKind) -> Option<UnitId> {
    if let ReadingKind::Quantity { unit, .. } = kind { Some(*unit) } else { None }
}
