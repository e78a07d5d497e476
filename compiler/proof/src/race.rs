//! Faults that come of two people at work at once.

use crate::duty::Duty;
use crate::walk::Fault;
use locknut_graph::{Effect, NodeId, NodeKind, StepGraph, VariableId, Way};

/// The block of people side by side in which one lane breaks what another has made so.
pub(crate) fn race(graph: &StepGraph, fault: &Fault<'_>) -> Option<NodeId> {
    let Duty::Interlock { interlock } = &fault.duty else { return None };
    let trail = &fault.trail;
    let (block, own) = lane(graph, trail, trail.len().checked_sub(1)?)?;
    let variables = interlock.holds.variables().into_iter();
    let mut writers = variables.filter_map(|variable| last_writer(graph, trail, variable));
    let beside =
        |at: usize| lane(graph, trail, at).is_some_and(|(of, other)| of == block && other != own);
    writers.any(beside).then_some(block)
}

/// Whose turn it was: said right before each node of a lane.
fn lane(graph: &StepGraph, trail: &[(NodeId, Way)], at: usize) -> Option<(NodeId, u16)> {
    match trail.get(at.checked_sub(1)?)? {
        (block, Way::Child(lane))
            if matches!(graph.node(*block).kind, NodeKind::Together { .. }) =>
        {
            Some((*block, *lane))
        }
        _ => None,
    }
}

fn last_writer(graph: &StepGraph, trail: &[(NodeId, Way)], variable: VariableId) -> Option<usize> {
    let writes =
        |effect: &Effect| matches!(effect, Effect::Set { variable: of, .. } if *of == variable);
    trail.iter().rposition(|(node, way)| {
        let edge = graph.follow(*node, *way);
        let edge = edge.map(|(edge, _)| &edge.effects[..]).unwrap_or_default();
        graph.node(*node).effects.iter().chain(edge).any(writes)
    })
}
