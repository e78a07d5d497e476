//! All duties of a graph, judged in as few explorations as there are different slices.

use crate::duty::{Duty, duties};
use crate::engine::{Explored, Slice, State, explore};
use crate::path::path;
use crate::tell::{Lack, lack};
use locknut_finding::PathPoint;
use locknut_graph::{NodeId, StepGraph, VariableId, Way};
use std::collections::{BTreeMap, BTreeSet};

/// A duty that fails on some path.
pub(crate) struct Fault<'a> {
    pub(crate) duty: Duty<'a>,
    /// Where it fails: the act that is judged, or that broke an interlock; none: before the first act.
    pub(crate) node: Option<NodeId>,
    /// How it comes to this.
    pub(crate) path: Vec<PathPoint>,
    /// The nodes of the path with the ways taken, for whoever replays it.
    pub(crate) trail: Vec<(NodeId, Way)>,
    /// The values of what was watched, where it fails.
    pub(crate) values: BTreeMap<VariableId, u8>,
    /// Whether a value, a proof or a time is lacking.
    pub(crate) lack: Lack,
}

/// What came of judging all duties.
pub(crate) struct Judged<'a> {
    pub(crate) faults: Vec<Fault<'a>>,
    /// How many duties there are.
    pub(crate) duties: usize,
    /// Slices that cost more states than are allowed.
    pub(crate) given_up: Vec<Slice>,
}

/// Judges every duty of a graph; faults come in the order of their duties, the shortest path first.
pub(crate) fn judge(graph: &StepGraph) -> Judged<'_> {
    let all = duties(graph);
    let count = all.len();
    let mut groups: BTreeMap<Slice, Vec<Duty<'_>>> = BTreeMap::new();
    for duty in all {
        groups.entry(duty.slice(graph)).or_default().push(duty);
    }
    let mut judged = Judged { faults: Vec::new(), duties: count, given_up: Vec::new() };
    for (mut slice, duties) in groups {
        let places: BTreeSet<NodeId> = duties.iter().filter_map(Duty::place).collect();
        slice.close(graph, &places);
        let explored = explore(graph, &slice, &places, &|_, _| false);
        if explored.given_up {
            judged.given_up.push(slice);
            continue;
        }
        if !any_fails(graph, &explored, &duties) {
            continue;
        }
        // A path must be one that can be gone: every branch on it is decided, those too that do not
        // matter to the fault. Where that costs too much, the verdict stands and the path is told as it is.
        let mut whole = slice.clone();
        whole.watch_branches(graph);
        let walked = explore(graph, &whole, &places, &|_, _| false);
        let (of, shown) = if walked.given_up { (&slice, &explored) } else { (&slice, &walked) };
        faults_of(graph, of, shown, duties, &mut judged.faults);
    }
    judged
}

/// The values that the fault depends on.
fn watched(slice: &Slice, state: &State) -> BTreeMap<VariableId, u8> {
    state
        .values
        .iter()
        .filter(|(id, _)| slice.values.contains(id))
        .map(|(id, value)| (*id, *value))
        .collect()
}

fn any_fails(graph: &StepGraph, explored: &Explored, duties: &[Duty<'_>]) -> bool {
    explored.states.iter().enumerate().any(|(id, state)| {
        let before = explored.before(id).map(|(before, _)| before);
        duties.iter().any(|duty| {
            duty.place().is_none_or(|place| place == state.marking.at)
                && duty.fails(graph, state, before)
        })
    })
}

fn faults_of<'a>(
    graph: &StepGraph,
    slice: &Slice,
    explored: &Explored,
    duties: Vec<Duty<'a>>,
    faults: &mut Vec<Fault<'a>>,
) {
    for duty in duties {
        let mut sites = BTreeSet::new();
        for (id, state) in explored.states.iter().enumerate() {
            if duty.place().is_some_and(|place| place != state.marking.at) {
                continue;
            }
            let before = explored.before(id);
            if !duty.fails(graph, state, before.map(|(before, _)| before)) {
                continue;
            }
            let trail = explored.trail(id);
            let node = duty.place().or_else(|| trail.last().map(|(node, _)| *node));
            // A subtask by itself begins in whatever state its callers owe it; that is judged with them.
            if node.is_none() && graph.heading.subtask {
                continue;
            }
            if sites.insert(node) {
                let shown = if duty.place().is_some() { node } else { None };
                faults.push(Fault {
                    duty: duty.clone(),
                    node,
                    path: path(graph, slice, &trail, shown),
                    trail,
                    values: watched(slice, state),
                    lack: match &duty {
                        Duty::Assertion { assertion, .. } => lack(&assertion.condition, state),
                        Duty::Interlock { interlock } => lack(&interlock.holds, state),
                        Duty::Restore { .. }
                        | Duty::SafeToLeave { .. }
                        | Duty::AsFound { .. }
                        | Duty::Leaves { .. }
                        | Duty::Taken { .. } => Lack::Value,
                    },
                });
            }
        }
    }
}
