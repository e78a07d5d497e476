//! How soon a child or lane is done at best, and by which nodes.

use super::index::{BlockSum, Index, Out};
use locknut_graph::{NodeId, NodeKind, Way};

impl<'g> Index<'g> {
    pub(super) fn lengths(&mut self) {
        for unit in (0..self.units.len()).rev() {
            for at in 0..self.units[unit].nodes.len() {
                let node = self.units[unit].nodes[at];
                self.to_end[node] = if self.kind(node).back_to().is_some() {
                    Some(0)
                } else {
                    self.shortest_out(node).map(|(length, _)| length)
                };
            }
        }
        for (block, units) in &self.blocks {
            let shortest = units.iter().map(|unit| self.shortest(*unit)).sum();
            let endless = units.iter().copied().filter(|unit| !self.units[*unit].finishes);
            self.sums.insert(*block, BlockSum { shortest, endless: endless.collect() });
        }
    }

    /// The way on that comes to the unit's end soonest, and how many nodes that takes.
    fn shortest_out(&self, node: usize) -> Option<(u32, Out<'g>)> {
        let freed = u32::from(matches!(self.kind(node), NodeKind::AnyOrder { .. }));
        let inside = self.blocks.get(&node).into_iter().flatten();
        let inside: u32 = inside.map(|unit| freed + self.shortest(*unit)).sum();
        let on =
            self.outs[node].iter().filter(|out| !matches!(out.way, Way::Child(_) | Way::Again));
        on.filter_map(|out| Some((self.to_end[out.to]? + 1 + inside, *out)))
            .min_by_key(|(length, _)| *length)
    }

    /// The way to a freed child or lane.
    pub(crate) fn way_to(&self, block: usize, child: u16) -> Option<&Out<'g>> {
        let outs = &self.outs[block];
        let is_it = |out: &&Out<'g>| out.way == Way::Child(child);
        // Children stand first, in their order.
        outs.get(usize::from(child)).filter(is_it).or_else(|| outs.iter().find(is_it))
    }

    /// The fewest nodes in which a unit is done.
    pub(crate) fn shortest(&self, unit: usize) -> u32 {
        self.to_end[self.units[unit].first].unwrap_or(0)
    }

    /// A shortest way through a unit, as a job goes it: nodes with the way taken.
    pub(crate) fn through(&self, unit: usize, trail: &mut Vec<(NodeId, Way)>) {
        let lane = self.units[unit]
            .inside
            .filter(|(_, block, _)| matches!(self.kind(*block), NodeKind::Together { .. }));
        let mut node = self.units[unit].first;
        while self.to_end[node].is_some_and(|left| left > 0) {
            let Some((_, out)) = self.shortest_out(node) else { return };
            for inner in self.blocks.get(&node).into_iter().flatten() {
                if let Some((_, block, child)) = self.units[*inner].inside {
                    if matches!(self.kind(block), NodeKind::AnyOrder { .. }) {
                        choose_lane(lane, trail);
                        trail.push((NodeId::new(block), Way::Child(child)));
                    }
                    self.through_in(*inner, lane, trail);
                }
            }
            choose_lane(lane, trail);
            trail.push((NodeId::new(node), out.way));
            node = out.to;
        }
    }

    fn through_in(
        &self,
        unit: usize,
        lane: Option<(usize, usize, u16)>,
        trail: &mut Vec<(NodeId, Way)>,
    ) {
        let mut inner = Vec::new();
        self.through(unit, &mut inner);
        for step in inner {
            choose_lane(lane, trail);
            trail.push(step);
        }
    }
}

/// Beside other people, it is said before each node whose turn it is.
fn choose_lane(lane: Option<(usize, usize, u16)>, trail: &mut Vec<(NodeId, Way)>) {
    if let Some((_, block, child)) = lane {
        trail.push((NodeId::new(block), Way::Child(child)));
    }
}
