//! What lacks something, and the other lines that bring it about.

use crate::calls::Calls;
use locknut_graph::{Effect, NodeId};

/// What lacks something and what brings it, as the lines of one procedure or subtask.
pub(crate) struct Pair {
    pub(crate) own: NodeId,
    pub(crate) other: NodeId,
    /// The node itself that brings it about.
    pub(crate) brings: NodeId,
}

/// Other statements of the same file that bring something about, beside the line that lacks it.
pub(crate) fn writers(calls: &Calls<'_>, act: NodeId, effect: &Effect) -> Vec<Pair> {
    let graph = calls.graph;
    let brings = |node: &NodeId| {
        let ways = graph.ways(*node).into_iter().flat_map(|(_, edge, _)| &edge.effects);
        graph.node(*node).effects.iter().chain(ways).any(|one| one == effect)
    };
    let pair = |brings: NodeId| {
        let (own, other) = calls.side_by_side(act, brings);
        Pair { own, other, brings }
    };
    let span = |node: NodeId| graph.node(node).span;
    let apart = |pair: &Pair| {
        span(pair.own).file == span(pair.other).file && span(pair.own) != span(pair.other)
    };
    let mut pairs: Vec<Pair> =
        graph.flow.node_indices().filter(brings).map(pair).filter(apart).collect();
    pairs.dedup_by_key(|pair| span(pair.other));
    pairs.truncate(2);
    pairs
}
