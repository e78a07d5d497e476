//! What an instrument decides though nobody has said how far it may be wrong.

use super::NotJudged;
use locknut_graph::{Act, ActKind, Instrument, ReadingId, StepGraph, Verdict};
use std::collections::{BTreeMap, BTreeSet};

/// Which act takes, counts, chooses or works out each reading.
pub(super) type Taken<'g> = BTreeMap<ReadingId, &'g Act>;

/// Of all readings of a procedure.
pub(super) fn taken(graph: &StepGraph) -> Taken<'_> {
    let acts = graph.flow.node_weights().filter_map(locknut_graph::Node::act);
    acts.filter_map(|act| Some((act.kind.reading()?, act))).collect()
}

/// What is open at an act because an instrument that it decides by states less than is wanted.
pub(super) fn unstated(graph: &StepGraph, taken: &Taken<'_>, act: &Act) -> Vec<NotJudged> {
    let by = if decides(act) { decided_by(graph, taken, act) } else { Vec::new() };
    by.into_iter().filter(|one| !one.one_limit).flat_map(of_one).collect()
}

fn decides(act: &Act) -> bool {
    match &act.kind {
        ActKind::Measure { verdict, .. } | ActKind::Check { verdict, .. } => match verdict {
            Verdict::Accept { .. } | Verdict::Arms(_) => true,
            Verdict::None => false,
        },
        ActKind::Choose(_) => true,
        ActKind::Do
        | ActKind::Confirm
        | ActKind::Wait { .. }
        | ActKind::Count { .. }
        | ActKind::Observe { .. }
        | ActKind::Record { .. } => act.tightening.is_some(),
    }
}

/// The instruments of an act itself, and of all that its value is worked out from.
fn decided_by<'g>(graph: &'g StepGraph, taken: &Taken<'g>, act: &'g Act) -> Vec<&'g Instrument> {
    let (mut positions, mut seen) = (BTreeSet::new(), BTreeSet::new());
    let mut left = vec![act];
    while let Some(act) = left.pop() {
        positions.extend(act.instrument);
        let of = match &act.kind {
            ActKind::Check { value, .. } => value.readings(),
            ActKind::Choose(choice) => choice.value.readings(),
            ActKind::Measure { .. }
            | ActKind::Do
            | ActKind::Confirm
            | ActKind::Wait { .. }
            | ActKind::Count { .. }
            | ActKind::Observe { .. }
            | ActKind::Record { .. } => BTreeSet::new(),
        };
        left.extend(of.into_iter().filter(|id| seen.insert(*id)).filter_map(|id| taken.get(&id)));
    }
    positions.into_iter().filter_map(|position| graph.instruments.get(position)).collect()
}

/// One sentence an instrument, at its declaration.
fn of_one(one: &Instrument) -> Vec<NotJudged> {
    let said = &one.words.said;
    let mut all = Vec::new();
    if one.error.is_none() {
        let only = one.standard_uncertainty.is_some();
        let stated = if only { ", only its standard uncertainty" } else { "" };
        all.push(format!(
            "whether the {said} is good enough for its limits: its error is not stated{stated}"
        ));
    }
    if one.resolution.is_none() && !one.applies {
        all.push(format!(
            "whether limits stand on the digits of the {said}: its resolution is not stated"
        ));
    }
    all.into_iter().map(|what| NotJudged { what, act: one.span }).collect()
}
