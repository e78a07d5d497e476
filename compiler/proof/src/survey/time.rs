//! How long it takes on the plain way.

use crate::facts::Time;
use locknut_graph::{ActKind, End, NodeKind, StepGraph, StepId, Way};
use locknut_quantity::Exact;
use num_traits::Zero;

/// Times along the plain way: every reading accepted, the first arm that goes on, no repeats.
pub(super) fn time(graph: &StepGraph) -> Time {
    let mut time = Time::default();
    let (mut least, mut likely, mut most) = (Exact::zero(), Exact::zero(), Exact::zero());
    let mut any = false;
    for step in plain_steps(graph) {
        match &graph.step(step).takes {
            Some((shortest, usual, longest)) => {
                least += shortest;
                likely += usual;
                most += longest;
                any = true;
            }
            None if waits(graph, step).is_zero() => time.untimed += 1,
            None => {}
        }
        time.waits += waits(graph, step);
    }
    if any || !time.waits.is_zero() {
        time.elapsed = Some((least + &time.waits, likely + &time.waits, most + &time.waits));
    }
    time
}

fn waits(graph: &StepGraph, step: StepId) -> Exact {
    let nodes = graph.flow.node_weights().filter(|node| node.step == Some(step));
    nodes
        .filter_map(|node| match &node.act()?.kind {
            ActKind::Wait { seconds, .. } => Some(seconds.clone()),
            ActKind::Do
            | ActKind::Confirm
            | ActKind::Measure { .. }
            | ActKind::Count { .. }
            | ActKind::Observe { .. }
            | ActKind::Record { .. }
            | ActKind::Check { .. }
            | ActKind::Choose(_) => None,
        })
        .fold(Exact::zero(), |sum, wait| sum + wait)
}

/// Steps that the plain way passes, in its order.
fn plain_steps(graph: &StepGraph) -> Vec<StepId> {
    let mut steps = Vec::new();
    let mut marking = locknut_graph::Marking::start(graph);
    // No plain way is longer than all nodes, each passed once a freed child.
    for _ in 0..graph.flow.node_count().saturating_mul(2) {
        if let Some(step) = graph.node(marking.at).step.filter(|step| !steps.contains(step)) {
            steps.push(step);
        }
        let Some(way) = plain_way(graph, &marking) else { break };
        let Some(next) = marking.take(graph, way) else { break };
        marking = next;
    }
    steps
}

fn plain_way(graph: &StepGraph, marking: &locknut_graph::Marking) -> Option<Way> {
    let ways = marking.ways(graph);
    let goes_on = |way: &&Way| {
        graph.follow(marking.at, **way).is_some_and(|(_, to)| {
            !matches!(
                graph.node(to).kind,
                NodeKind::End(End::Stop { .. } | End::Refer { .. }) | NodeKind::Repeat(_)
            )
        })
    };
    ways.iter().find(goes_on).or(ways.first()).copied()
}
