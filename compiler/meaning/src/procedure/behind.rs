//! Where a job may be while a state is denied.

use super::build::Build;
use super::denied::DENIED;
use locknut_graph::{Edge, EdgeRef, Effect, NodeId, NodeKind, VariableId};
use std::collections::BTreeSet;

impl Build {
    /// Wherever one variable is set to say that a state is denied, another is.
    pub(super) fn also_denied(&mut self, one: VariableId, other: VariableId) {
        for edge in self.flow.edge_weights_mut() {
            if last_set(&edge.effects, one) == Some(DENIED) {
                edge.effects.push(Effect::Set { variable: other, value: DENIED });
            }
        }
    }

    /// The nodes that the job may come to while a state is denied.
    pub(super) fn behind(&self, denied: VariableId) -> BTreeSet<NodeId> {
        let (left, beside) = self.denied_at(denied);
        self.reached_from(left, |effects| !beside && last_set(effects, denied) == Some(0))
    }

    /// Wherever something ends a denial behind it, it is denied no more.
    pub(super) fn known_again(&mut self, denied: VariableId, ends: impl Fn(&Effect) -> bool) {
        let (left, _) = self.denied_at(denied);
        let reached = self.reached_from(left, |_| false);
        for edge in self.flow.edge_indices() {
            let from = self.flow.edge_endpoints(edge).map(|(from, _)| from);
            let way = self.flow.edge_weight_mut(edge).map(|edge| &mut edge.effects);
            if let Some(effects) = way.filter(|_| from.is_some_and(|from| reached.contains(&from)))
            {
                clear(effects, denied, &ends);
            }
        }
        for node in reached {
            if let Some(node) = self.flow.node_weight_mut(node) {
                clear(&mut node.effects, denied, &ends);
            }
        }
    }

    /// The nodes that come next where a state is denied, and whether somebody works beside.
    fn denied_at(&self, denied: VariableId) -> (Vec<NodeId>, bool) {
        let mut next = Vec::new();
        let mut beside = false;
        for edge in self.flow.edge_indices() {
            let denies = |way: &Edge| last_set(&way.effects, denied) == Some(DENIED);
            if self.flow.edge_weight(edge).is_some_and(denies)
                && let Some((from, to)) = self.flow.edge_endpoints(edge)
            {
                next.push(to);
                // Whatever is done in another lane may come next, wherever that lane is by then.
                let blocks = self.blocks_around(from);
                beside |= !blocks.is_empty();
                next.extend(blocks);
            }
        }
        (next, beside)
    }

    /// The nodes that the job may come to from these, up to where it stops.
    fn reached_from(
        &self,
        mut left: Vec<NodeId>,
        stops: impl Fn(&[Effect]) -> bool,
    ) -> BTreeSet<NodeId> {
        let mut seen = BTreeSet::new();
        while let Some(at) = left.pop() {
            let Some(node) = self.flow.node_weight(at) else { continue };
            if !seen.insert(at) || stops(&node.effects) {
                continue;
            }
            left.extend(node.kind.back_to());
            let ways = self.flow.edges(at).filter(|way| !stops(&way.weight().effects));
            left.extend(ways.map(|way| way.target()));
        }
        seen
    }

    /// The blocks of people side by side that a node stands in.
    fn blocks_around(&self, node: NodeId) -> Vec<NodeId> {
        let together = |at: &NodeId| {
            let kind = self.flow.node_weight(*at).map(|node| &node.kind);
            matches!(kind, Some(NodeKind::Together { .. }))
        };
        self.flow
            .node_indices()
            .filter(together)
            .filter(|block| self.is_inside(*block, node))
            .collect()
    }

    fn is_inside(&self, block: NodeId, node: NodeId) -> bool {
        let mut left = vec![block];
        let mut seen = BTreeSet::new();
        while let Some(at) = left.pop() {
            for edge in self.flow.edges(at) {
                let next = edge.target();
                let leaves = at == block && edge.weight().way == locknut_graph::Way::Next;
                if !leaves && next != block && seen.insert(next) {
                    left.push(next);
                }
            }
            let back = self.flow.node_weight(at).and_then(|node| node.kind.back_to());
            left.extend(back.filter(|back| *back != block && seen.insert(*back)));
        }
        seen.contains(&node)
    }
}

/// What a variable is set to last by some effects.
fn last_set(effects: &[Effect], variable: VariableId) -> Option<u8> {
    effects.iter().rev().find_map(|effect| effect.sets(variable))
}

fn clear(effects: &mut Vec<Effect>, denied: VariableId, ends: impl Fn(&Effect) -> bool) {
    if effects.iter().any(ends) {
        effects.push(Effect::Set { variable: denied, value: 0 });
    }
}
