//! Breadth first over all states, so that the first way found to a fault is a shortest one.

use super::alike::Alike;
use super::{Slice, State};
use locknut_graph::{NodeId, NodeKind, StepGraph, Way};
use std::collections::{BTreeMap, BTreeSet};

/// The most states that one group of properties may cost; above it a finding says so.
pub(crate) const MOST_STATES: usize = 1 << 18;

/// A state by its position in [`Explored::states`].
pub(crate) type StateId = usize;

/// All states of a slice, with the way by which each was first reached.
pub(crate) struct Explored {
    pub(crate) states: Vec<State>,
    came: Vec<Option<(StateId, Way)>>,
    /// Whether the exploration was given up at [`MOST_STATES`].
    pub(crate) given_up: bool,
}

impl Explored {
    /// The way to a state: nodes with the way taken out of them, from the start.
    pub(crate) fn trail(&self, to: StateId) -> Vec<(NodeId, Way)> {
        let mut trail = Vec::new();
        let mut at = to;
        while let Some((before, way)) = self.came.get(at).copied().flatten() {
            if let Some(state) = self.states.get(before) {
                trail.push((state.marking.at, way));
            }
            at = before;
        }
        trail.reverse();
        trail
    }

    /// The state before, and the way taken from it; none at a start.
    pub(crate) fn before(&self, id: StateId) -> Option<(&State, Way)> {
        let (before, way) = self.came.get(id).copied().flatten()?;
        Some((self.states.get(before)?, way))
    }
}

/// The extra bit of a state, from the state and node before (none at a start) and the state itself.
pub(crate) type Flag<'a> = dyn Fn(Option<(&State, NodeId)>, &State) -> bool + 'a;

/// Explores a graph on a slice. `places` are nodes at which properties are judged. `flag` gives the
/// state's extra bit after each transition, from the state before, the node and the state after.
pub(crate) fn explore(
    graph: &StepGraph,
    slice: &Slice,
    places: &BTreeSet<NodeId>,
    flag: &Flag<'_>,
) -> Explored {
    let alike = Alike::of(graph, slice, places);
    let regions = Regions::of(graph);
    let mut explored = Explored { states: Vec::new(), came: Vec::new(), given_up: false };
    let mut known = BTreeSet::new();
    let arrive = |mut state: State, came, explored: &mut Explored, known: &mut BTreeSet<State>| {
        regions.forget(&mut state);
        skip_unseen(&mut state, &alike);
        if known.insert(state.clone()) {
            explored.states.push(state);
            explored.came.push(came);
        }
    };
    for mut start in State::starts(graph, slice) {
        start.flag = flag(None, &start);
        arrive(start, None, &mut explored, &mut known);
    }
    let mut at = 0;
    while let Some(state) = explored.states.get(at).cloned() {
        for way in ways(graph, slice, &alike, &state) {
            if let Some(mut next) = state.after(graph, slice, way) {
                next.flag = flag(Some((&state, state.marking.at)), &next);
                arrive(next, Some((at, way)), &mut explored, &mut known);
            }
        }
        if explored.states.len() > MOST_STATES {
            explored.given_up = true;
            return explored;
        }
        at += 1;
    }
    explored
}

/// The ways that are tried from a state.
fn ways(graph: &StepGraph, slice: &Slice, alike: &Alike, state: &State) -> Vec<Way> {
    let all = state.marking.ways(graph);
    match &graph.node(state.marking.at).kind {
        NodeKind::Branch(condition) if slice.decides(condition) => match state.holds(condition) {
            Some(true) => all.into_iter().filter(|way| *way == Way::Arm(0)).collect(),
            Some(false) => all.into_iter().filter(|way| *way == Way::Arm(1)).collect(),
            None => all,
        },
        NodeKind::AnyOrder { .. } => {
            let done = state.marking.open.last().map(|open| open.done.clone()).unwrap_or_default();
            let order = state.marking.at;
            let tried = |way: &Way| {
                if let Way::Child(child) = way { !alike.behind(order, *child, &done) } else { true }
            };
            all.into_iter().filter(tried).collect()
        }
        NodeKind::Act(_)
        | NodeKind::Pass
        | NodeKind::Branch(_)
        | NodeKind::ChildDone { .. }
        | NodeKind::Repeat(_)
        | NodeKind::Enter { .. }
        | NodeKind::Leave { .. }
        | NodeKind::End(_) => all,
    }
}

/// Freed children of which nothing is seen are taken as done when their block is entered.
fn skip_unseen(state: &mut State, alike: &Alike) {
    let at = state.marking.at;
    if let Some(open) = state.marking.open.last_mut().filter(|open| open.order == at) {
        for (child, done) in (0u16..).zip(open.done.iter_mut()) {
            *done |= alike.unseen(at, child);
        }
    }
}

/// Where the rounds of each repeat still matter.
struct Regions {
    inside: Vec<BTreeSet<NodeId>>,
}

impl Regions {
    fn of(graph: &StepGraph) -> Self {
        let back = backwards(graph);
        let inside = (0..graph.repeats.len()).map(|repeat| region(graph, &back, repeat)).collect();
        Self { inside }
    }

    /// Rounds that no line ahead asks for again are forgotten, so that states fall together.
    fn forget(&self, state: &mut State) {
        for (rounds, inside) in state.marking.rounds.iter_mut().zip(&self.inside) {
            if !inside.contains(&state.marking.at) {
                *rounds = 0;
            }
        }
    }
}

/// Nodes on the ways from one node to another.
pub(crate) fn between(graph: &StepGraph, from: NodeId, to: NodeId) -> BTreeSet<NodeId> {
    let back = backwards(graph);
    let mut before = BTreeSet::new();
    let mut open = vec![to];
    while let Some(node) = open.pop() {
        if before.insert(node) && node != from {
            open.extend(back.get(&node).into_iter().flatten());
        }
    }
    let mut between = BTreeSet::new();
    let mut open = vec![from];
    while let Some(node) = open.pop() {
        if !before.contains(&node) || !between.insert(node) || node == to {
            continue;
        }
        if let NodeKind::ChildDone { order } = graph.node(node).kind {
            open.push(order);
        }
        open.extend(graph.ways(node).into_iter().map(|(_, _, next)| next));
    }
    between
}

/// Which nodes lead to a node.
fn backwards(graph: &StepGraph) -> BTreeMap<NodeId, Vec<NodeId>> {
    let mut back: BTreeMap<NodeId, Vec<NodeId>> = BTreeMap::new();
    for node in graph.flow.node_indices() {
        for (_, _, to) in graph.ways(node) {
            back.entry(to).or_default().push(node);
        }
        if let NodeKind::ChildDone { order } = graph.node(node).kind {
            back.entry(order).or_default().push(node);
        }
    }
    back
}

/// Nodes from which the repeat's line is reached without its count starting afresh.
fn region(
    graph: &StepGraph,
    back: &BTreeMap<NodeId, Vec<NodeId>>,
    repeat: usize,
) -> BTreeSet<NodeId> {
    let is_line = |id: &NodeId| matches!(graph.node(*id).kind, NodeKind::Repeat(of) if usize::from(of.0) == repeat);
    let afresh = |id: NodeId| {
        graph.node(id).effects.iter().any(|effect| {
            matches!(effect, locknut_graph::Effect::Afresh { repeat: of } if usize::from(of.0) == repeat)
        })
    };
    let mut inside = BTreeSet::new();
    let mut open: Vec<NodeId> = graph.flow.node_indices().filter(is_line).collect();
    while let Some(node) = open.pop() {
        if afresh(node) || !inside.insert(node) {
            continue;
        }
        open.extend(back.get(&node).into_iter().flatten());
    }
    inside
}
