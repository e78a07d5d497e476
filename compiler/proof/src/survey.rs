//! Facts: where hazards stand, where the machine may not be left, how it stands, how long it takes.

use crate::engine::{Slice, State, explore};
use crate::facts::{Facts, Time};
use locknut_graph::{
    ActKind, Condition, End, HazardId, HazardPlace, NodeId, NodeKind, StepGraph, StepId,
    VariableId, Way,
};
use locknut_quantity::Exact;
use num_traits::Zero;
use std::collections::{BTreeMap, BTreeSet};

/// Everything the sheet wants to know, beside the choices.
pub(crate) fn survey(graph: &StepGraph, facts: &mut Facts) {
    facts.hazards = hazards(graph);
    facts.do_not_leave = do_not_leave(graph);
    stand(graph, facts);
    facts.time = time(graph);
    reach(graph, facts);
}

/// Where each hazard is printed, by hazard and node.
fn hazards(graph: &StepGraph) -> Vec<HazardPlace> {
    let mut places = Vec::new();
    for (id, hazard) in (0u16..).map(HazardId).zip(&graph.hazards) {
        let guarded: BTreeSet<NodeId> =
            graph.flow.node_indices().filter(|node| touches(graph, *node, id)).collect();
        let ahead = if hazard.at.is_empty() {
            without_thing(graph, &hazard.condition)
        } else {
            first_touches(graph, &hazard.condition, &guarded)
        };
        places.extend(ahead.into_iter().map(|ahead_of| HazardPlace { hazard: id, ahead_of }));
    }
    places
}

fn touches(graph: &StepGraph, node: NodeId, hazard: HazardId) -> bool {
    graph.node(node).act().is_some_and(|act| act.touches.contains(&hazard))
}

/// Ahead of the first act on the thing that follows a moment at which the condition may have become
/// true; the start is one. The flag of a state says that such a moment has been and nothing was
/// printed since.
fn first_touches(
    graph: &StepGraph,
    condition: &Condition,
    guarded: &BTreeSet<NodeId>,
) -> BTreeSet<Option<NodeId>> {
    let mut slice = Slice::of(condition);
    slice.close(graph, guarded);
    let flag = |before: Option<(&State, NodeId)>, state: &State| {
        let now = state.holds(condition) != Some(false);
        match before {
            None => now,
            Some((before, node)) => {
                let was = before.holds(condition) != Some(false);
                (now && !was) || (before.flag && !guarded.contains(&node))
            }
        }
    };
    let explored = explore(graph, &slice, guarded, &flag);
    explored
        .states
        .iter()
        .filter(|state| state.flag && guarded.contains(&state.marking.at))
        .map(|state| Some(state.marking.at))
        .collect()
}

/// Ahead of the step that makes the condition true; in the banner where it holds from the start.
fn without_thing(graph: &StepGraph, condition: &Condition) -> BTreeSet<Option<NodeId>> {
    let mut slice = Slice::of(condition);
    slice.close(graph, &BTreeSet::new());
    let explored = explore(graph, &slice, &BTreeSet::new(), &|_, _| false);
    let mut places = BTreeSet::new();
    for (id, state) in explored.states.iter().enumerate() {
        if state.holds(condition) == Some(false) {
            continue;
        }
        match explored.before(id) {
            None => {
                places.insert(None);
            }
            Some((before, _)) if before.holds(condition) == Some(false) => {
                let at = before.marking.at;
                places.insert(graph.node(at).step.map(|step| graph.step(step).first).or(Some(at)));
            }
            Some(_) => {}
        }
    }
    places
}

/// Steps at whose end, on some path, the machine may not be left.
fn do_not_leave(graph: &StepGraph) -> BTreeSet<StepId> {
    let condition = &graph.safe_to_leave.0;
    let mut slice = Slice::of(condition);
    slice.close(graph, &BTreeSet::new());
    let explored = explore(graph, &slice, &BTreeSet::new(), &|_, _| false);
    let mut steps = BTreeSet::new();
    for (id, state) in explored.states.iter().enumerate() {
        let Some((before, _)) = explored.before(id) else { continue };
        let (was, is) = (graph.node(before.marking.at).step, graph.node(state.marking.at).step);
        if let Some(step) = was.filter(|step| is != Some(*step))
            && state.holds(condition) == Some(false)
        {
            steps.insert(step);
        }
    }
    steps
}

/// For each variable: the values it may have at the start of each step and at each end.
fn stand(graph: &StepGraph, facts: &mut Facts) {
    let firsts: BTreeMap<NodeId, StepId> =
        (0u16..).map(StepId).zip(&graph.steps).map(|(id, step)| (step.first, id)).collect();
    for variable in (0..u16::try_from(graph.variables.len()).unwrap_or(u16::MAX)).map(VariableId) {
        let mut slice = Slice { values: BTreeSet::from([variable]), ..Slice::default() };
        slice.close(graph, &BTreeSet::new());
        let normal = graph.variable(variable).normal;
        for state in &explore(graph, &slice, &BTreeSet::new(), &|_, _| false).states {
            let Some(value) = state.values.get(&variable).filter(|value| **value != normal) else {
                continue;
            };
            let at = state.marking.at;
            if let Some(step) = firsts.get(&at) {
                let here = facts.standing.entry(*step).or_default();
                here.entry(variable).or_default().insert(*value);
            }
            if matches!(graph.node(at).kind, NodeKind::End(_)) {
                let here = facts.left_at.entry(at).or_default();
                here.entry(variable).or_default().insert(*value);
            }
        }
    }
}

/// Times along the plain way: every reading accepted, the first arm that goes on, no repeats.
fn time(graph: &StepGraph) -> Time {
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

/// What was covered, and steps that no path reaches.
fn reach(graph: &StepGraph, facts: &mut Facts) {
    let mut slice = Slice::default();
    for node in graph.flow.node_weights() {
        if let NodeKind::Branch(condition) = &node.kind {
            slice.watch(condition);
        }
    }
    let explored = explore(graph, &slice, &BTreeSet::new(), &|_, _| false);
    let mut reached: BTreeSet<NodeId> =
        explored.states.iter().map(|state| state.marking.at).collect();
    reached.extend(skipped_children(graph, &reached));
    facts.covered.acts = reached.iter().filter(|node| graph.node(**node).act().is_some()).count();
    facts.covered.ends =
        reached.iter().filter(|node| matches!(graph.node(**node).kind, NodeKind::End(_))).count();
    facts.reached = reached;
}

/// Freed children that were taken as done at once are reached where their block is.
fn skipped_children(graph: &StepGraph, reached: &BTreeSet<NodeId>) -> BTreeSet<NodeId> {
    let mut inside = BTreeSet::new();
    let orders =
        reached.iter().filter(|node| matches!(graph.node(**node).kind, NodeKind::AnyOrder { .. }));
    let mut open: Vec<NodeId> =
        orders.flat_map(|order| graph.ways(*order).into_iter().map(|(_, _, to)| to)).collect();
    while let Some(node) = open.pop() {
        if !reached.contains(&node) && inside.insert(node) {
            open.extend(graph.ways(node).into_iter().map(|(_, _, to)| to));
        }
    }
    inside
}
