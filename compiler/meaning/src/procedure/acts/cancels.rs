//! Readings that cancel out of what is worked out: `bore - ring + ring`.

use super::super::coverage::linear;
use super::super::laying::Laying;
use super::moving;
use crate::findings::readings::CancelsOut;
use locknut_finding::Span;
use locknut_graph::{ComputedLimit, Expression, Operator, ReadingId};
use std::collections::BTreeSet;

/// Says so where a limit or a condition is the same whatever some of its readings are.
pub(in super::super) fn tell_written(laying: &mut Laying<'_>, span: Span, value: &Expression) {
    let written = format!("“{}”", laying.written(span));
    tell(laying, &written, span, value);
}

/// Says so where value and limit move by as much, so that a reading in both decides nothing.
pub(super) fn tell_against(
    laying: &mut Laying<'_>,
    name: &str,
    span: Span,
    value: &Expression,
    ends: &ComputedLimit,
) {
    let ends = ends.lower.iter().chain(&ends.upper).map(|(end, _)| end);
    let mut idle: Option<BTreeSet<ReadingId>> = None;
    for end in ends {
        let (own, others) = (readings(value), readings(end));
        let Some(sum) = linear(&moving::difference(value, end), &laying.knowns) else { return };
        let shared = own.intersection(&others).copied().filter(|id| !sum.rests_on(*id)).collect();
        idle = Some(idle.map_or_else(|| BTreeSet::clone(&shared), |so_far| &so_far & &shared));
    }
    let against = format!("{name} against its limit");
    told(laying, &against, span, idle.unwrap_or_default());
}

/// Says so where a sum is the same whatever some of its readings are.
pub(super) fn tell(laying: &mut Laying<'_>, name: &str, span: Span, value: &Expression) {
    let Some(sum) = linear(value, &laying.knowns).filter(|_| !value.counts()) else { return };
    let idle = readings(value);
    let idle = idle.into_iter().filter(|id| !sum.rests_on(*id) && !is_reference(value, *id));
    told(laying, name, span, idle.collect());
}

fn readings(value: &Expression) -> BTreeSet<ReadingId> {
    value.readings().into_iter().collect()
}

fn told(laying: &mut Laying<'_>, name: &str, span: Span, idle: BTreeSet<ReadingId>) {
    // What was worked out before is made of readings itself.
    let read = |id: &ReadingId| laying.knowns.get(*id).is_some_and(|known| known.sum.is_none());
    let idle = idle.into_iter().filter(read);
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
