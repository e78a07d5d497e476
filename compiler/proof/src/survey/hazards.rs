//! Where each hazard is printed.

use super::{TooMuch, all_of};
use crate::engine::{Bits, Detail, Index, Slice, System, Watch};
use locknut_graph::{
    Act, ActKind, By, Condition, HazardId, HazardPlace, LineValue, NodeId, StepGraph, StepId, Words,
};
use std::collections::{BTreeMap, BTreeSet};

/// Nodes ahead of which something is printed; none: the banner of page one.
type Ahead = BTreeSet<Option<NodeId>>;

/// Where each hazard is printed, by hazard and node.
pub(crate) fn hazards(index: &Index<'_>) -> Result<Vec<HazardPlace>, TooMuch> {
    let mut places = Vec::new();
    for (id, hazard) in (0u16..).map(HazardId).zip(&index.graph.hazards) {
        let ahead = if hazard.at.is_empty() {
            without_thing(index, &hazard.condition)?
        } else {
            first_touches(index, &hazard.condition, id)?
        };
        places.extend(ahead.into_iter().map(|ahead_of| HazardPlace { hazard: id, ahead_of }));
    }
    Ok(places)
}

/// Ahead of the first act on the thing that follows a moment at which the condition may have become
/// true; the start is one. The flag of a state says that such a moment has been and nothing was
/// printed since.
fn first_touches(
    index: &Index<'_>,
    condition: &Condition,
    hazard: HazardId,
) -> Result<Ahead, TooMuch> {
    let touches = |act: &locknut_graph::Act| act.touches.contains(&hazard);
    let nodes = index.graph.flow.node_indices();
    let places = nodes.filter(|node| index.graph.node(*node).act().is_some_and(touches));
    let places: Vec<usize> = places.map(NodeId::index).collect();
    let readers: BTreeSet<Reader> =
        places.iter().map(|place| Reader::of(index.graph, NodeId::new(*place))).collect();
    let steps = Steps::of(index.graph);
    let mut ahead = Ahead::new();
    for reader in &readers {
        // What is printed in the steps of another is not read.
        let read = |place: &usize| steps.are_read(NodeId::new(*place), reader);
        let read: Vec<usize> = places.iter().copied().filter(read).collect();
        ahead.extend(first_of(index, condition, &read)?.into_iter().map(NodeId::new).map(Some));
    }
    Ok(ahead)
}

/// For whom a hazard is printed ahead of an act: all of these.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Reader {
    /// Whoever is free.
    Anyone,
    Roles(BTreeSet<String>),
}

impl Reader {
    /// Whoever does an act: as its line says, else as its step says.
    fn of(graph: &StepGraph, node: NodeId) -> Self {
        let line = graph.node(node).act().map(named).unwrap_or_default();
        if !line.is_empty() {
            return Self::Roles(line);
        }
        match graph.node(node).step.map(|step| &graph.step(step).by) {
            Some(By::Roles(roles)) => Self::Roles(names(roles)),
            Some(By::All) if !graph.heading.crew.is_empty() => {
                Self::Roles(names(&graph.heading.crew))
            }
            Some(By::All | By::Anyone) | None => Self::Anyone,
        }
    }
}

/// Who reads the head of each step: whoever it names, and whoever its lines name.
struct Steps<'g> {
    graph: &'g StepGraph,
    read_by: BTreeMap<StepId, BTreeSet<String>>,
}

impl<'g> Steps<'g> {
    fn of(graph: &'g StepGraph) -> Self {
        let mut read_by: BTreeMap<StepId, BTreeSet<String>> = BTreeMap::new();
        for node in graph.flow.node_weights() {
            let Some((step, act)) = node.step.zip(node.act()) else { continue };
            let here = read_by.entry(step).or_default();
            here.extend(named(act));
            match &graph.step(step).by {
                By::Roles(roles) => here.extend(names(roles)),
                By::All => here.extend(names(&graph.heading.crew)),
                By::Anyone => {}
            }
        }
        Self { graph, read_by }
    }

    /// Whether what is printed ahead of the step of an act is surely read by all of these.
    fn are_read(&self, node: NodeId, by: &Reader) -> bool {
        // Who works alone reads everything.
        if self.graph.heading.crew.len() <= 1 {
            return true;
        }
        let here = self.graph.node(node).step.and_then(|step| self.read_by.get(&step));
        let here = here.cloned().unwrap_or_default();
        match by {
            Reader::Roles(roles) => roles.is_subset(&here),
            Reader::Anyone => here.is_empty() || names(&self.graph.heading.crew).is_subset(&here),
        }
    }
}

/// Who does the line of an act, where it says so itself.
fn named(act: &Act) -> BTreeSet<String> {
    match (act.line.values.get("who"), act.line.values.get("by")) {
        // Whoever only is to let go stands beside, and does not read this step.
        (Some(LineValue::Words(one)), _) if !matches!(act.kind, ActKind::Confirm) => {
            names(std::slice::from_ref(one))
        }
        (_, Some(LineValue::List(several))) => names(several),
        _ => BTreeSet::new(),
    }
}

fn names(roles: &[Words]) -> BTreeSet<String> {
    roles.iter().map(|role| role.name.clone()).collect()
}

/// Those of the guarded acts that are ever the first.
fn first_of(
    index: &Index<'_>,
    condition: &Condition,
    places: &[usize],
) -> Result<Vec<usize>, TooMuch> {
    let mut guarded = Bits::below(index.outs.len());
    for place in places {
        guarded.insert(*place);
    }
    let mut slice = Slice(index.cells(condition));
    let seen = slice.close(index, places);
    let judges =
        |node: usize| if places.contains(&node) { "guarded".to_owned() } else { String::new() };
    let flagged = Some((condition, guarded));
    let system = System::build(index, &slice, &seen, &judges, Detail::Verdict, flagged);
    let Some(flag) = &system.flag else { return Ok(Vec::new()) };
    let watch = Watch::everywhere(&system, &[flag.slot]);
    let walked = all_of(&system, &slice, &watch, &mut |_, _, _, _| {})?;
    let mut ahead = BTreeSet::new();
    for state in
        walked.states().map(|id| walked.state(id)).filter(|state| flag.slot.get(state) == 1)
    {
        system.standing_at(state, |at| {
            if let Some(kept) = system.nodes.get(at).filter(|kept| flag.guarded.has(kept.node)) {
                ahead.insert(system.peer(kept.node));
            }
        });
    }
    // Freed acts that look alike are each the first in some order.
    let first = places.iter().copied().filter(|place| ahead.contains(&system.peer(*place)));
    Ok(first.collect())
}

/// Ahead of the step that makes the condition true; in the banner where it holds from the start.
fn without_thing(index: &Index<'_>, condition: &Condition) -> Result<Ahead, TooMuch> {
    let mut slice = Slice(index.cells(condition));
    let seen = slice.close(index, &[]);
    let system = System::build(index, &slice, &seen, &|_| String::new(), Detail::Verdict, None);
    let asks = system.asks(condition);
    let may = |state: &[u64]| asks.hold(state) != Some(false);
    let graph = index.graph;
    let mut made_so = BTreeSet::new();
    let watch = Watch::of_moves(&asks, Vec::new());
    let walked = all_of(&system, &slice, &watch, &mut |before, moved, after, _| {
        if let Some(kept) = system.nodes.get(moved.node).filter(|_| may(after) && !may(before)) {
            made_so.insert(system.peer(kept.node));
        }
    })?;
    // Freed acts that look alike each make it so in some order.
    let kept = system.nodes.iter().map(|kept| kept.node);
    let mut places: Ahead = kept
        .filter(|node| made_so.contains(&system.peer(*node)))
        .map(NodeId::new)
        .map(|at| graph.node(at).step.map(|step| graph.step(step).first).or(Some(at)))
        .collect();
    let mut starts = walked.states().filter(|id| walked.is_start(*id));
    if starts.any(|id| may(walked.state(id))) {
        places.insert(None);
    }
    Ok(places)
}
