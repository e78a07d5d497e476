//! A written procedure → its step graph.

use crate::World;
use locknut_finding::Findings;
use locknut_graph::StepGraph;

/// The step graph of one procedure or subtask of a library; none only where nothing sensible could
/// be built.
pub fn graph_of(world: &World, name: &str, publisher: &str) -> (Option<StepGraph>, Findings) {
    let _ = (world, name, publisher);
    (None, Findings::default())
}
