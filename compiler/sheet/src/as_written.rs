//! Readings that stay in the units in which they are written, whatever a reader prefers.
//!
//! Arms and look-up tables that end at one digit of an instrument and go on at the next (`at most
//! 0.5 mm`, `at least 0.6 mm`) say nothing of what lies between. Another unit would show a reader just
//! that. A condition (`when gap over 0.2 mm`) parts what may come in two, as arms that meet do, and is told by one figure with a digit more than is
//! read. What something is worked out from, and the result, stay: figures in a sum would have to be rounded, and not always to the safe side.

use crate::words::Speaker;
use locknut_graph::{
    Act, ActArm, ActKind, Expression, Fold, ReadingId, ReadingKind, StepGraph, Test, Verdict,
};
use locknut_quantity::{Bound, Limit, Range};
use std::collections::BTreeSet;

/// The readings of a procedure that are not converted.
pub fn as_written(graph: &StepGraph) -> BTreeSet<ReadingId> {
    let acts: Vec<&Act> = graph.acts().collect();
    let conditions = graph.conditions();
    let asked = conditions.iter().flat_map(|condition| condition.tests()).filter_map(asked_of);
    let mut kept: BTreeSet<ReadingId> =
        acts.iter().map(|act| unconverted(&act.kind)).chain(asked).flatten().collect();
    // A card shows no figure that could be read in another unit: it answers its own limit.
    let answers_only = |act: &&&Act| {
        act.instrument.and_then(|at| graph.instruments.get(at)).is_some_and(|one| one.one_limit)
    };
    kept.extend(acts.iter().filter(answers_only).filter_map(|act| act.kind.reading()));
    // What hangs together is kept together: each round adds a reading, or is the last.
    loop {
        let before = kept.len();
        for act in &acts {
            let together: BTreeSet<ReadingId> =
                act.kind.rests_on().into_iter().chain(act.kind.reading()).collect();
            if !together.is_disjoint(&kept) {
                kept.extend(together);
            }
        }
        if kept.len() == before {
            return kept;
        }
    }
}

fn asked_of(test: &Test) -> Option<BTreeSet<ReadingId>> {
    let Test::Within { value, limit, .. } = test else { return None };
    read_alone(value, limit).is_none().then(|| value.readings())
}

/// The reading that a condition asks for as it is read, at some point of it; none where something is worked out, or where
/// only one figure meets the limit, which in another unit no reading would.
pub(crate) fn read_alone(value: &Expression, limit: &Limit) -> Option<ReadingId> {
    let of = if let Expression::Fold(Fold::Max | Fold::Min, parts) = value {
        let [only] = parts.as_slice() else { return None };
        only
    } else {
        value
    };
    let (Expression::Reading(id) | Expression::Point(id, _)) = of else { return None };
    limit.range.single().is_none().then_some(*id)
}

/// A limit of a condition, told in the reader's unit: by figures that part its readings just where it does. What is
/// outside counts as its neighbours, so that each end is rounded away from no reading.
pub(crate) fn asked(speak: Speaker<'_>, id: ReadingId, limit: &Limit) -> Option<String> {
    let ReadingKind::Quantity { unit, decimals, .. } = speak.graph.reading(id).kind else {
        return None;
    };
    let own = |range: Range| Limit { range, unit, decimals, ..limit.clone() };
    let beside = |end: &Bound| Bound { value: end.value.clone(), closed: !end.closed };
    let Range { lower, upper } = &limit.range;
    let below = lower.as_ref().map(|end| Range { lower: None, upper: Some(beside(end)) });
    let above = upper.as_ref().map(|end| Range { lower: Some(beside(end)), upper: None });
    let own_limit = own(limit.range.clone());
    let neighbours: Vec<Limit> = below.into_iter().chain(above).map(own).collect();
    let all: Vec<&Limit> = neighbours.iter().chain([&own_limit]).collect();
    Some(speak.arm(&own_limit, &all, decimals))
}

fn unconverted(kind: &ActKind) -> BTreeSet<ReadingId> {
    // A figure in a sum cannot be rounded towards both ends of a limit; a table has rows for the author's readings.
    if !kind.worked_out().is_empty() {
        return kind.rests_on().into_iter().chain(kind.reading()).collect();
    }
    match kind {
        // What is refused would be rounded the other way than what is accepted.
        ActKind::Measure { reading, verdict: Verdict::Accept { limit, .. }, .. }
            if limit.guard.is_some() =>
        {
            BTreeSet::from([*reading])
        }
        ActKind::Measure { reading, verdict: Verdict::Arms(arms), .. }
            if !all_meet(arms) || arms.iter().any(|arm| arm.whole.is_some()) =>
        {
            BTreeSet::from([*reading])
        }
        ActKind::Choose(_)
        | ActKind::Do
        | ActKind::Confirm
        | ActKind::Wait { .. }
        | ActKind::Measure { .. }
        | ActKind::Count { .. }
        | ActKind::Observe { .. }
        | ActKind::Record { .. }
        | ActKind::Check { .. } => BTreeSet::new(),
    }
}

/// Whether each arm begins where another ends.
fn all_meet(arms: &[ActArm]) -> bool {
    let mut ranges: Vec<_> =
        arms.iter().filter_map(|arm| arm.range.as_ref()).map(|limit| &limit.range).collect();
    ranges.sort_by(|a, b| {
        let lower = |range: &locknut_quantity::Range| {
            range.lower.as_ref().map(|bound| (bound.value.clone(), !bound.closed))
        };
        lower(a).cmp(&lower(b))
    });
    ranges.iter().zip(ranges.iter().skip(1)).all(|(first, next)| first.meets(next))
}

/// One arm, with figures that its neighbours share.
pub(crate) fn arm(speak: Speaker<'_>, act: &Act, arms: &[ActArm], limit: &Limit) -> String {
    let all: Vec<&Limit> = arms.iter().filter_map(|arm| arm.range.as_ref()).collect();
    let kind = act.kind.reading().map(|reading| &speak.graph.reading(reading).kind);
    match kind {
        Some(ReadingKind::Quantity { decimals, .. }) => speak.arm(limit, &all, *decimals),
        Some(
            ReadingKind::Answer { .. }
            | ReadingKind::Serial
            | ReadingKind::Date
            | ReadingKind::Text,
        )
        | None => speak.limit(limit),
    }
}

/// That a reading is not converted, where its unit has another in the reader's system.
pub(crate) fn caution(speak: Speaker<'_>, act: &Act) -> Option<String> {
    let id = act.kind.reading().filter(|id| speak.kept.contains(id))?;
    let ReadingKind::Quantity { unit, kind, .. } = &speak.graph.reading(id).kind else {
        return None;
    };
    let read = matches!(act.kind, ActKind::Measure { .. } | ActKind::Count { .. });
    if speak.reader_unit(*unit) == *unit || !read {
        return None;
    }
    let unit = speak.qualified(speak.unit_word(speak.units.unit(*unit), ""), *kind);
    Some(speak.say("caution-as-written", &[("unit", unit)]))
}
