//! A way through a system, told as a job goes it: nodes with the way taken out of them.

use super::system::System;
use locknut_graph::{NodeId, NodeKind, Way};

impl System<'_, '_> {
    /// What was left out of a block, done before it is left.
    pub(crate) fn unseen(&self, block: usize, trail: &mut Vec<(NodeId, Way)>) {
        let index = self.index;
        for unit in
            index.blocks.get(&block).into_iter().flatten().map(|unit| (*unit, &index.units[*unit]))
        {
            let (id, unit) = unit;
            let Some((_, _, child)) = unit.inside.filter(|_| self.kept.of(unit.first).is_none())
            else {
                continue;
            };
            if let NodeKind::AnyOrder { .. } = index.kind(block) {
                trail.push((NodeId::new(block), Way::Child(child)));
            }
            index.through(id, trail);
        }
    }

    /// A kept node that was done, left by one of its edges.
    pub(super) fn tell(&self, node: usize, edge: usize, trail: &mut Vec<(NodeId, Way)>) {
        let kept = &self.nodes[node];
        let edge = &kept.edges[edge];
        let node = NodeId::new(kept.node);
        let lane = |trail: &mut Vec<_>| {
            if let Some((block, lane)) = kept.lane {
                trail.push((NodeId::new(block), Way::Child(lane)));
            }
        };
        if edge.length > 1 {
            let mut inner = Vec::new();
            self.unseen(kept.node, &mut inner);
            for step in inner {
                lane(trail);
                trail.push(step);
            }
        }
        lane(trail);
        trail.push((node, edge.way));
    }
}
