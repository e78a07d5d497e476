//! What some path reaches.

use super::{TooMuch, apart, by_unit, walked};
use crate::engine::{Detail, Index, Slice, System, Watch};
use locknut_graph::NodeId;
use std::collections::{BTreeMap, BTreeSet};

/// Nodes that some path reaches: each with the branches around it decided.
pub(crate) fn reached(index: &Index<'_>) -> Result<BTreeSet<NodeId>, TooMuch> {
    let mut reached = BTreeSet::new();
    for unit in by_unit(index, |_| true) {
        let mut by_slice: BTreeMap<Slice, Vec<usize>> = BTreeMap::new();
        for node in unit.nodes {
            let mut slice = Slice::default();
            slice.close(index, &[node]);
            by_slice.entry(slice).or_default().push(node);
        }
        for (mut slice, nodes) in by_slice {
            let seen = slice.close(index, &nodes);
            let system = System::build(index, &slice, &seen, &apart(&nodes), Detail::Verdict, None);
            let watch = Watch::everywhere(&system, &[]);
            let walked = walked(&system, &slice, &watch, &mut |_, _, _, _| {})?;
            let mut here = BTreeSet::new();
            for id in walked.states() {
                system.standing_at(walked.state(id), |at| {
                    here.extend(system.nodes.get(at).map(|kept| kept.node));
                });
            }
            // The ends of children and lanes are passed, never stood at.
            let passed = |node: usize| index.kind(node).back_to().is_some();
            let there = nodes.into_iter().filter(|node| passed(*node) || here.contains(node));
            reached.extend(there.map(NodeId::new));
        }
    }
    Ok(reached)
}
