//! Facts: where hazards stand, where the machine may not be left, how it stands, how long it takes.

use crate::engine::{Bits, Detail, Explored, Index, Slice, System};
use crate::facts::{Facts, Time};
use locknut_graph::{
    ActKind, Condition, End, HazardId, HazardPlace, NodeId, NodeKind, StepGraph, StepId,
    VariableId, Way,
};
use locknut_quantity::Exact;
use num_traits::Zero;
use std::collections::{BTreeMap, BTreeSet};

/// Everything that the sheet wants to know beyond the proof, beside the choices.
pub(crate) fn survey(index: &Index<'_>, facts: &mut Facts) {
    facts.do_not_leave = do_not_leave(index);
    stand(index, facts);
    facts.time = time(index.graph);
}

/// Where each hazard is printed, by hazard and node.
pub(crate) fn hazards(index: &Index<'_>) -> Vec<HazardPlace> {
    let mut places = Vec::new();
    for (id, hazard) in (0u16..).map(HazardId).zip(&index.graph.hazards) {
        let ahead = if hazard.at.is_empty() {
            without_thing(index, &hazard.condition)
        } else {
            first_touches(index, &hazard.condition, id)
        };
        places.extend(ahead.into_iter().map(|ahead_of| HazardPlace { hazard: id, ahead_of }));
    }
    places
}

/// Ahead of the first act on the thing that follows a moment at which the condition may have become
/// true; the start is one. The flag of a state says that such a moment has been and nothing was
/// printed since.
fn first_touches(
    index: &Index<'_>,
    condition: &Condition,
    hazard: HazardId,
) -> BTreeSet<Option<NodeId>> {
    let mut guarded = Bits::below(index.outs.len());
    let mut places = Vec::new();
    for node in index.graph.flow.node_indices() {
        let touches = |act: &locknut_graph::Act| act.touches.contains(&hazard);
        if index.graph.node(node).act().is_some_and(touches) {
            guarded.insert(node.index());
            places.push(node.index());
        }
    }
    if places.is_empty() {
        return BTreeSet::new();
    }
    let mut slice = Slice(index.cells(condition));
    let seen = slice.close(index, &places);
    let judges =
        |node: usize| if places.contains(&node) { "guarded".to_owned() } else { String::new() };
    let flagged = Some((condition, guarded));
    let system = System::build(index, &slice, &seen, &judges, Detail::Verdict, flagged);
    let explored = Explored::of(&system, &mut |_, _, _, _| {});
    let mut ahead = BTreeSet::new();
    let Some(flag) = &system.flag else { return BTreeSet::new() };
    for state in
        (0..explored.count()).map(|id| explored.state(id)).filter(|state| flag.slot.get(state) == 1)
    {
        system.standing_at(state, |at| {
            if let Some(kept) = system.nodes.get(at).filter(|kept| flag.guarded.has(kept.node)) {
                ahead.insert(Some(system.peer(kept.node)));
            }
        });
    }
    // Freed acts that look alike are each the first in some order.
    places
        .into_iter()
        .filter(|place| ahead.contains(&Some(system.peer(*place))))
        .map(|place| Some(NodeId::new(place)))
        .collect()
}

/// Ahead of the step that makes the condition true; in the banner where it holds from the start.
fn without_thing(index: &Index<'_>, condition: &Condition) -> BTreeSet<Option<NodeId>> {
    let mut slice = Slice(index.cells(condition));
    let seen = slice.close(index, &[]);
    let system =
        System::build(index, &slice, &seen, &|node| node.to_string(), Detail::Verdict, None);
    let asks = system.asks(condition);
    let may = |state: &[u64]| asks.hold(state) != Some(false);
    let graph = index.graph;
    let mut places = BTreeSet::new();
    let explored = Explored::of(&system, &mut |before, moved, after, _| {
        if let Some(kept) = system.nodes.get(moved.node).filter(|_| may(after) && !may(before)) {
            let at = NodeId::new(kept.node);
            places.insert(graph.node(at).step.map(|step| graph.step(step).first).or(Some(at)));
        }
    });
    let starts = (0..explored.count()).filter(|id| explored.came(*id).is_none());
    if starts.into_iter().any(|id| may(explored.state(id))) {
        places.insert(None);
    }
    places
}

/// Steps at whose end, on some path, the machine may not be left.
fn do_not_leave(index: &Index<'_>) -> BTreeSet<StepId> {
    let condition = &index.graph.safe_to_leave.0;
    let mut slice = Slice(index.cells(condition));
    let seen = slice.close(index, &[]);
    let system =
        System::build(index, &slice, &seen, &|node| node.to_string(), Detail::Everything, None);
    let asks = system.asks(condition);
    let step_of = |at: usize| {
        let kept = system.nodes.get(at)?;
        index.graph.node(NodeId::new(kept.node)).step
    };
    let mut steps = BTreeSet::new();
    Explored::of(&system, &mut |_, moved, after, _| {
        let Some(step) = step_of(moved.node) else { return };
        let mut goes_on = false;
        system.standing_at(after, |at| goes_on |= step_of(at) == Some(step));
        if !goes_on && asks.hold(after) == Some(false) {
            steps.insert(step);
        }
    });
    steps
}

/// For each variable: the values it may have at the start of each step and at each end.
fn stand(index: &Index<'_>, facts: &mut Facts) {
    let graph = index.graph;
    let firsts: BTreeMap<usize, StepId> =
        (0u16..).map(StepId).zip(&graph.steps).map(|(id, step)| (step.first.index(), id)).collect();
    let places: Vec<usize> = graph
        .flow
        .node_indices()
        .map(NodeId::index)
        .filter(|node| firsts.contains_key(node) || matches!(index.kind(*node), NodeKind::End(_)))
        .collect();
    for variable in (0..u16::try_from(graph.variables.len()).unwrap_or(u16::MAX)).map(VariableId) {
        let cell = crate::engine::Cell::Value(variable);
        let normal = graph.variable(variable).normal;
        let starts_so =
            |(id, values): &(VariableId, Vec<u8>)| *id == variable && *values != [normal];
        // What nobody writes stands as it is.
        if !index.touched.contains_key(&cell) && !graph.starts.iter().any(starts_so) {
            continue;
        }
        let mut slice = Slice(BTreeSet::from([cell]));
        let seen = slice.close(index, &places);
        let system =
            System::build(index, &slice, &seen, &|node| node.to_string(), Detail::Verdict, None);
        let explored = Explored::of(&system, &mut |_, _, _, _| {});
        for state in (0..explored.count()).map(|id| explored.state(id)) {
            let Some(value) =
                system.values(state).get(&variable).copied().filter(|value| *value != normal)
            else {
                continue;
            };
            system.standing_at(state, |at| {
                let Some(node) = system.nodes.get(at).map(|kept| kept.node) else { return };
                if let Some(step) = firsts.get(&node) {
                    facts
                        .standing
                        .entry(*step)
                        .or_default()
                        .entry(variable)
                        .or_default()
                        .insert(value);
                }
                if let NodeKind::End(_) = index.kind(node) {
                    let here = facts.left_at.entry(NodeId::new(node)).or_default();
                    here.entry(variable).or_default().insert(value);
                }
            });
        }
    }
}

/// Nodes that some path reaches: each with the branches around it decided.
pub(crate) fn reached(index: &Index<'_>) -> BTreeSet<NodeId> {
    let mut by_slice: BTreeMap<Slice, Vec<usize>> = BTreeMap::new();
    for node in index
        .graph
        .flow
        .node_indices()
        .map(NodeId::index)
        .filter(|node| index.unit.get(*node).copied().flatten().is_some())
    {
        let mut slice = Slice::default();
        slice.close(index, &[node]);
        by_slice.entry(slice).or_default().push(node);
    }
    let mut reached = BTreeSet::new();
    for (mut slice, nodes) in by_slice {
        let seen = slice.close(index, &nodes);
        let system = System::build(index, &slice, &seen, &|_| String::new(), Detail::Verdict, None);
        let explored = Explored::of(&system, &mut |_, _, _, _| {});
        let mut here = Bits::below(index.outs.len());
        for id in 0..explored.count() {
            system.standing_at(explored.state(id), |at| {
                if let Some(kept) = system.nodes.get(at) {
                    here.insert(system.peer(kept.node));
                }
            });
        }
        // The ends of children and lanes are passed, never stood at.
        let passed = |node: usize| {
            matches!(index.kind(node), NodeKind::ChildDone { .. } | NodeKind::LaneDone { .. })
        };
        reached.extend(
            nodes
                .into_iter()
                .filter(|node| passed(*node) || here.has(system.peer(*node)))
                .map(NodeId::new),
        );
    }
    reached
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
