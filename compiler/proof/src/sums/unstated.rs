//! What an instrument decides though nobody has said how far it may be wrong.

use super::NotJudged;
use locknut_graph::{Act, ActKind, StepGraph, Verdict};

/// What is open at an act because its instrument states less than is wanted.
pub(super) fn unstated(graph: &StepGraph, act: &Act) -> Vec<NotJudged> {
    let instrument = act.instrument.and_then(|position| graph.instruments.get(position));
    let decides = match &act.kind {
        ActKind::Measure { verdict: Verdict::Accept { .. } | Verdict::Arms(_), .. }
        | ActKind::Choose(_) => true,
        ActKind::Measure { verdict: Verdict::None, .. }
        | ActKind::Do
        | ActKind::Confirm
        | ActKind::Wait { .. }
        | ActKind::Count { .. }
        | ActKind::Observe { .. }
        | ActKind::Record { .. }
        | ActKind::Check { .. } => act.tightening.is_some(),
    };
    let Some(one) = instrument.filter(|one| decides && !one.one_limit) else { return Vec::new() };
    let said = &one.words.said;
    let mut all = Vec::new();
    if one.error.is_none() && one.standard_uncertainty.is_none() {
        all.push(format!(
            "whether the {said} is good enough for its limits: its error is not stated"
        ));
    }
    if one.resolution.is_none() && !one.applies {
        all.push(format!(
            "whether limits stand on the digits of the {said}: its resolution is not stated"
        ));
    }
    // One sentence an instrument, at its declaration.
    all.into_iter().map(|what| NotJudged { what, act: one.span }).collect()
}
