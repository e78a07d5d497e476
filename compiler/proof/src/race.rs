//! Faults that come of what may be done in either order: by two people at work at once, or by one in any order.

use crate::duty::Duty;
use crate::walk::Fault;
use locknut_graph::{Effect, NodeId, NodeKind, StepGraph, VariableId, Way};
use std::collections::BTreeMap;

/// Where one line may be ahead of another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Race {
    /// In lanes of people side by side.
    Lanes(NodeId),
    /// In freed steps.
    Freed(NodeId),
}

impl Race {
    /// The block.
    pub(crate) fn block(self) -> NodeId {
        let (Self::Lanes(block) | Self::Freed(block)) = self;
        block
    }
}

/// The block in which one lane, or one freed step, breaks what another has made so.
pub(crate) fn race(graph: &StepGraph, fault: &Fault<'_>) -> Option<Race> {
    let Duty::Interlock { interlock } = &fault.duty else { return None };
    let trail = &fault.trail;
    let here = trail.len().checked_sub(1)?;
    let variables = interlock.holds.variables().into_iter();
    let writers: Vec<usize> =
        variables.filter_map(|variable| last_writer(graph, trail, variable)).collect();
    if let Some((block, own)) = lane(graph, trail, here) {
        let beside = |at: &usize| {
            lane(graph, trail, *at).is_some_and(|(of, other)| of == block && other != own)
        };
        if writers.iter().any(beside) {
            return Some(Race::Lanes(block));
        }
    }
    let own = freed(graph, trail, here);
    let other = |block: &NodeId, child: u16| {
        writers.iter().any(|at| freed(graph, trail, *at).get(block).is_some_and(|of| *of != child))
    };
    own.iter().find(|(block, child)| other(block, **child)).map(|(block, _)| Race::Freed(*block))
}

/// The freed steps that a node of a path stands in: of each block which.
fn freed(graph: &StepGraph, trail: &[(NodeId, Way)], at: usize) -> BTreeMap<NodeId, u16> {
    let mut inside = BTreeMap::new();
    for (node, way) in trail.iter().take(at) {
        let kind = &graph.node(*node).kind;
        if let (NodeKind::AnyOrder { .. }, Way::Child(child)) = (kind, way) {
            inside.insert(*node, *child);
        } else if let NodeKind::ChildDone { order } = kind {
            inside.remove(order);
        }
    }
    inside
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
