//! Readings that cancel out of what is worked out: `bore - ring + ring`.

use super::super::coverage::linear;
use super::super::laying::Laying;
use crate::findings::readings::CancelsOut;
use locknut_finding::Span;
use locknut_graph::{Expression, Operator, ReadingId};

/// Says so where a sum is the same whatever some of its readings are.
pub(super) fn tell(laying: &mut Laying<'_>, name: &str, span: Span, value: &Expression) {
    let Some(sum) = linear(value, &laying.knowns).filter(|_| !value.counts()) else { return };
    // What was worked out before is made of readings itself.
    let read = |id: &ReadingId| laying.knowns.get(*id).is_some_and(|known| known.sum.is_none());
    let idle = value
        .readings()
        .into_iter()
        .filter(|id| read(id) && !sum.rests_on(*id) && !is_reference(value, *id));
    let idle = idle.filter_map(|id| laying.build.readings.get(usize::from(id.0)));
    let readings: Vec<String> = idle.map(|reading| reading.words.said.clone()).collect();
    if !readings.is_empty() {
        laying.found.add(&CancelsOut { name: name.to_owned(), span, readings });
    }
}

/// Whether a reading is what others are counted from, wherever it stands: `(left - zero) - (right - zero)`.
fn is_reference(value: &Expression, reading: ReadingId) -> bool {
    let own = |part: &Expression| matches!(part, Expression::Reading(id) | Expression::Point(id, _) if *id == reading);
    match value {
        Expression::Binary(Operator::Subtract, left, right) if own(right) => {
            !left.readings().contains(&reading)
        }
        Expression::Binary(_, left, right) => {
            is_reference(left, reading) && is_reference(right, reading)
        }
        Expression::Negative(inner) | Expression::LookUp(_, _, inner) => {
            is_reference(inner, reading)
        }
        Expression::Fold(_, parts) => parts.iter().all(|part| is_reference(part, reading)),
        Expression::Value(_) | Expression::Reading(_) | Expression::Point(..) => !own(value),
    }
}
