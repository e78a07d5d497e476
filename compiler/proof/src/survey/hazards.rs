//! Where each hazard is printed.

use super::{TooMuch, all_of};
use crate::engine::{Bits, Detail, Index, Slice, System, Watch};
use locknut_graph::{Condition, HazardId, HazardPlace, NodeId};
use std::collections::BTreeSet;

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
    let lanes: BTreeSet<Option<usize>> = places.iter().map(|place| index.lane(*place)).collect();
    let mut ahead = Ahead::new();
    for lane in &lanes {
        // Whoever works beside another reads their own lane: what is printed in the other’s is not read.
        let read =
            |place: &usize| lane.is_none() || index.lane(*place).is_none_or(|of| Some(of) == *lane);
        let read: Vec<usize> = places.iter().copied().filter(read).collect();
        let first = first_of(index, condition, &read)?.into_iter();
        ahead.extend(first.filter(|place| index.lane(*place) == *lane).map(NodeId::new).map(Some));
    }
    Ok(ahead)
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
