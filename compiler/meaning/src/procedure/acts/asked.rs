//! What a condition or a row asks of a reading, held against the digits of what shows it.

use super::super::laying::Laying;
use super::limits::{off_digits, reaches};
use super::readings;
use crate::world::Instrument;
use locknut_finding::Span;
use locknut_graph::Expression;
use locknut_quantity::Limit;

/// Says so where a limit that is asked of a reading lies between two digits of what shows it.
pub(in super::super) fn between_digits(
    laying: &mut Laying<'_>,
    value: &Expression,
    limit: &Limit,
    span: Span,
) {
    let Some(instrument) = shown_by(laying, value) else { return };
    let Some(grid) = readings::grid(instrument) else { return };
    let ends = limit.range.lower.iter().chain(&limit.range.upper);
    let off = ends.filter(|end| reaches(instrument, &end.value) && !grid.has(&end.value));
    for end in off {
        off_digits(laying, &end.value, limit, span, instrument, &|_, _| true);
    }
}

/// The instrument that shows a value as it is, where one does.
fn shown_by<'w>(laying: &Laying<'w>, value: &Expression) -> Option<&'w Instrument> {
    let (Expression::Reading(reading) | Expression::Point(reading, _)) = value else { return None };
    let known = laying.knowns.get(*reading).filter(|known| known.sum.is_none())?;
    let cause = known.doubt.as_ref()?.cause?;
    laying.world.instruments.values().find(|one| one.span == cause)
}
