//! Limits whose unit has slipped: their figures would be sound in the unit of what they judge.

use super::super::coverage::{Possible, uncovered};
use super::super::laying::Laying;
use super::super::said;
use super::limits::Subject;
use locknut_quantity::{Bound, Limit, Range, UnitId, Units};

/// The same figures in another unit; none where it is their own.
pub(super) fn with(units: &Units, limit: &Limit, unit: UnitId) -> Option<Range> {
    let own = units.unit(unit);
    let moved = |end: &Bound| {
        let value = said::in_unit(units, &end.value, limit.unit) * &own.factor + &own.zero;
        Bound { value, ..end.clone() }
    };
    (limit.unit != unit).then(|| Range {
        lower: limit.range.lower.as_ref().map(moved),
        upper: limit.range.upper.as_ref().map(moved),
    })
}

/// A limit that decides nothing, with the same figures in the unit of what it judges, where it would decide something then.
pub(super) fn decides(
    laying: &Laying<'_>,
    limit: &Limit,
    subject: &Subject<'_>,
    possible: &Possible,
) -> Option<String> {
    let units = &laying.world.units;
    let range = with(units, limit, subject.unit)?;
    let some = possible.within(&range).is_some();
    let decides = some && !uncovered(possible, std::slice::from_ref(&range)).is_empty();
    decides.then(|| said::range(units, &range, subject.said_in(limit), limit.decimals))
}
