//! What comes to what: which nodes a branch decides about, which let the job end early, which a repeat does again.

use super::bits::Bits;
use super::index::{Index, Out};
use locknut_graph::{NodeId, NodeKind, Way};

impl Index<'_> {
    /// What each branch decides about: the nodes that only one of its arms reaches.
    pub(super) fn branches(&mut self) {
        for node in 0..self.outs.len() {
            if let NodeKind::Branch(_) = self.kind(node) {
                let arm = |way| {
                    let out = self.outs[node].iter().find(|out| out.way == way);
                    out.map_or_else(
                        || Bits::below(self.outs.len()),
                        |out| self.reached(vec![out.to], Some(node)),
                    )
                };
                let (first, second) = (arm(Way::Arm(0)), arm(Way::Arm(1)));
                self.decides.push((node, first.differ(&second)));
            } else if let NodeKind::Await(_) = self.kind(node) {
                // Whoever waits keeps back all that follows, and lets the others go ahead.
                let lane = self.unit[node].and_then(|unit| self.units[unit].inside);
                let from = lane.map_or(node, |(_, block, _)| block);
                self.decides.push((node, self.reached(vec![from], None)));
            }
        }
    }

    /// Which nodes let the job end early.
    pub(super) fn bypasses(&mut self) {
        let mut leads_out = vec![false; self.outs.len()];
        let ends = |leads_out: &[bool], out: &Out<'_>| out.leaves || leads_out[out.to];
        for unit in &self.units {
            // Those that follow come before those that lead there.
            for node in &unit.nodes {
                let mut outs = self.outs[*node].iter().filter(|out| out.way != Way::Again);
                leads_out[*node] = !self.outs[*node].is_empty()
                    && !self.blocks.contains_key(node)
                    && outs.all(|out| ends(&leads_out, out));
            }
        }
        for node in 0..self.outs.len() {
            let out = self.outs[node].iter().filter(|out| ends(&leads_out, out)).count();
            let asked = matches!(self.kind(node), NodeKind::Branch(_));
            if !asked && (1..self.outs[node].len()).contains(&out) {
                let ways = self.outs[node].iter().map(|out| self.reached(vec![out.to], None));
                self.passes_by.push((node, ways.collect()));
            }
        }
    }

    /// Nodes that are reached from some without passing another.
    pub(super) fn reached(&self, mut open: Vec<usize>, not_through: Option<usize>) -> Bits {
        let mut seen = Bits::below(self.outs.len());
        while let Some(node) = open.pop() {
            if Some(node) != not_through && seen.insert(node) {
                open.extend(self.ahead(node));
            }
        }
        seen
    }

    /// Nodes that may come after one.
    fn ahead(&self, node: usize) -> impl Iterator<Item = usize> {
        let back = self.kind(node).back_to().map(NodeId::index);
        self.outs[node].iter().map(|out| out.to).chain(back)
    }

    pub(super) fn repeats(&mut self) {
        let count = self.outs.len();
        if self.graph.repeats.is_empty() {
            return;
        }
        let mut behind: Vec<Vec<usize>> = vec![Vec::new(); count];
        for node in 0..count {
            for to in self.ahead(node).collect::<Vec<_>>() {
                behind[to].push(node);
            }
        }
        self.bodies = vec![Bits::below(count); self.graph.repeats.len()];
        self.counted = self.bodies.clone();
        for line in 0..count {
            let NodeKind::Repeat(id) = self.kind(line) else { continue };
            let Some(again) = self.outs[line].iter().find(|out| out.way == Way::Again) else {
                continue;
            };
            let id = usize::from(id.0);
            let before = backwards(&behind, line, |node| node == again.to, count);
            let mut body = Bits::below(count);
            let mut open = vec![again.to];
            while let Some(node) = open.pop() {
                if before.has(node) && body.insert(node) && node != line {
                    open.extend(self.ahead(node));
                }
            }
            // The line's own way back may change something, too.
            self.bodies[id] = body;
            let afresh = &self.afresh[id];
            let mut counted = backwards(&behind, line, |node| afresh.contains(&node), count);
            for node in afresh {
                counted.remove(*node);
            }
            self.counted[id] = counted;
        }
    }
}

/// Nodes that lead to one; what `stop` holds of is passed, but nothing before it.
fn backwards(behind: &[Vec<usize>], to: usize, stop: impl Fn(usize) -> bool, count: usize) -> Bits {
    let mut before = Bits::below(count);
    let mut open = vec![to];
    while let Some(node) = open.pop() {
        if before.insert(node) && !stop(node) {
            open.extend(&behind[node]);
        }
    }
    before
}
