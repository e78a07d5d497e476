//! Arms that all lead to the same, so that the reading decides nothing.

use super::super::laying::Laying;
use super::draft::ArmOut;
use crate::findings::readings::DecidesNothing;
use locknut_finding::Span;
use locknut_graph::{NodeId, Verdict};
use locknut_syntax::tree::{End, Outcome};

/// Says so where every arm of a number is but `go on`.
pub(super) fn tell(laying: &mut Laying<'_>, node: NodeId, arms: &[ArmOut<'_>]) {
    let act = laying.build.flow.node_weight(node).and_then(locknut_graph::Node::act);
    let Some(Verdict::Arms(of)) = act.and_then(|act| act.kind.verdict()) else { return };
    let reading = act.and_then(|act| act.kind.reading());
    let reading = reading.and_then(|id| laying.build.readings.get(usize::from(id.0)));
    let plain = |outcome: &&Outcome| {
        outcome.items.is_empty() && matches!(outcome.end, Some(End::GoOn { noting: None, .. }))
    };
    let all: Vec<Span> = arms
        .iter()
        .filter_map(|arm| arm.outcome.filter(plain).map(|outcome| outcome.span))
        .collect();
    let numbers = of.iter().all(|arm| arm.range.is_some());
    if let Some(reading) = reading
        && numbers
        && all.len() > 1
        && all.len() == arms.len()
    {
        laying.found.add(&DecidesNothing { name: reading.words.said.clone(), arms: all });
    }
}
