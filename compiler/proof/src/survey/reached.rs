//! What some path reaches.

use super::{Answer, Asking, TooMuch, answered, apart, by_unit, walked};
use crate::engine::{Detail, Explored, Index, Slice, System, Watch};
use locknut_graph::NodeId;
use std::collections::{BTreeMap, BTreeSet};

/// Nodes that some path reaches: each with the branches around it decided.
pub(crate) fn reached(index: &Index<'_>) -> Result<BTreeSet<NodeId>, TooMuch> {
    let mut questions: Vec<Vec<usize>> = Vec::new();
    for unit in by_unit(index, |_| true) {
        let mut by_slice: BTreeMap<Slice, Vec<usize>> = BTreeMap::new();
        for node in unit.nodes {
            let mut slice = Slice::default();
            slice.close(index, &[node]);
            by_slice.entry(slice).or_default().push(node);
        }
        questions.extend(by_slice.into_values());
    }
    let questions: Vec<&[usize]> = questions.iter().map(Vec::as_slice).collect();
    let answers = answered(&questions, &mut |nodes, asking| here(index, nodes, asking))?;
    // The ends of children and lanes are passed, never stood at.
    let passed = |node: usize| index.kind(node).back_to().is_some();
    let mut reached = BTreeSet::new();
    for (nodes, here) in questions.into_iter().zip(answers) {
        let there = nodes.iter().filter(|node| passed(**node) || here.contains(&(**node, ())));
        reached.extend(there.map(|node| NodeId::new(*node)));
    }
    Ok(reached)
}

/// Nodes at which somebody may stand, with the branches around some of them decided.
fn here(index: &Index<'_>, nodes: &[usize], asking: Asking) -> Result<Option<Answer<()>>, TooMuch> {
    let mut slice = Slice::default();
    let seen = slice.close(index, nodes);
    let system = System::build(index, &slice, &seen, &apart(nodes, asking), Detail::Verdict, None);
    if index.lists(&system) && all_come_to(&system, nodes) {
        return Ok(Some(nodes.iter().map(|node| (*node, ())).collect()));
    }
    let watch = Watch::everywhere(&system, &[]);
    let walked = walked(asking, &system, &slice, &watch, &mut |_, _, _, _| {})?;
    let Some(walked) = walked else { return Ok(None) };
    let mut here = Answer::new();
    for id in walked.states() {
        system.standing_at(walked.state(id), |at| {
            here.extend(system.nodes.get(at).map(|kept| (kept.node, ())));
        });
    }
    Ok(Some(here))
}

/// Whether somebody may stand at each of these nodes but those that are passed: mostly that is seen long before all is.
fn all_come_to(system: &System<'_, '_>, nodes: &[usize]) -> bool {
    let index = system.index;
    let stood_at = nodes.iter().filter(|node| index.kind(**node).back_to().is_none());
    let Some(mut missing) =
        stood_at.map(|node| system.kept.of(*node)).collect::<Option<BTreeSet<_>>>()
    else {
        return false;
    };
    Explored::until(system, index.bounds.most, &mut |_, _, _, _| {}, &mut |state| {
        system.standing_at(state, |at| {
            missing.remove(&at);
        });
        missing.is_empty()
    });
    missing.is_empty()
}
