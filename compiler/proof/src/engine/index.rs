//! A graph made ready for many explorations: what is looked up again and again, worked out once.

use super::bits::Bits;
use super::diagram::MOST_IN_ALL;
use super::explore::{MOST_LISTED, MOST_STATES};
use super::pieces::Pieces;
use super::ticks::Ticks;
use locknut_graph::{
    Condition, Effect, NodeId, NodeKind, ReadingId, StepGraph, Test, VariableId, Way,
};
use std::collections::{BTreeMap, BTreeSet};

/// Something that one property may depend on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) enum Cell {
    /// The value of a variable.
    Value(VariableId),
    /// Whether its value was proved since it was written.
    Proved(VariableId),
    /// For how long it certainly has had its value.
    Held(VariableId),
    /// Whether a reading is taken.
    Taken(ReadingId),
    /// The value that a call found.
    Found(u16, VariableId),
    /// Where a reading lies among the bounds that are asked of it, by position in [`Pieces`].
    Piece(u16),
}

/// A way out of a node.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Out<'g> {
    pub(crate) way: Way,
    pub(crate) to: usize,
    pub(crate) effects: &'g [Effect],
    /// It leads to *done*, out of every block around.
    pub(crate) leaves: bool,
}

/// Nodes that are done as a whole or by one person: the job, a freed child, a lane.
#[derive(Debug)]
pub(crate) struct Unit {
    /// The unit around it, the block in it, and which child or lane of that this is; none for the job.
    pub(crate) inside: Option<(usize, usize, u16)>,
    /// Its nodes, those that follow before those that lead there.
    pub(crate) nodes: Vec<usize>,
    pub(crate) first: usize,
    /// Whether its end can be reached at all.
    pub(crate) finishes: bool,
}

/// What all children or lanes of a block come to.
#[derive(Debug, Default)]
pub(crate) struct BlockSum {
    /// The fewest nodes in which they are done.
    pub(crate) shortest: u32,
    /// Units that never come to their end.
    pub(crate) endless: Vec<usize>,
}

/// How many states may be listed.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Bounds {
    /// Where a block may have more by itself, they are drawn.
    pub(crate) listed: usize,
    /// More than these are given up.
    pub(crate) most: usize,
}

impl Bounds {
    pub(crate) const USUAL: Self = Self { listed: MOST_LISTED, most: MOST_STATES };
    /// Everything is drawn.
    pub(crate) const NONE: Self = Self { listed: 0, most: 0 };
}

/// Everything that is looked up.
pub(crate) struct Index<'g> {
    pub(crate) graph: &'g StepGraph,
    pub(crate) bounds: Bounds,
    /// What drawing may still cost, in nodes gone through.
    pub(super) to_draw: std::cell::Cell<usize>,
    pub(crate) outs: Vec<Vec<Out<'g>>>,
    pub(crate) units: Vec<Unit>,
    /// The unit of each node; none for what nothing leads to.
    pub(crate) unit: Vec<Option<usize>>,
    /// The units of each block, by its node.
    pub(crate) blocks: BTreeMap<usize, Vec<usize>>,
    pub(crate) touched: BTreeMap<Cell, Vec<usize>>,
    /// For each branch and each place that blocks: what it decides about.
    pub(crate) decides: Vec<(usize, Bits)>,
    /// Branches that tell for how long something has lasted.
    pub(crate) learns: Bits,
    /// For each node at which some way, but not every one, leads to *done* past what else would follow: what
    /// each of its ways reaches.
    pub(crate) passes_by: Vec<(usize, Vec<Bits>)>,
    /// For each repeat: what may be done again.
    pub(crate) bodies: Vec<Bits>,
    /// For each repeat: where its count still matters.
    pub(crate) counted: Vec<Bits>,
    /// Nodes at which a repeat counts afresh.
    pub(crate) afresh: Vec<Vec<usize>>,
    /// Where a way out of every block around leads, and what follows there.
    pub(crate) outside: Bits,
    /// Units in which such a way begins.
    pub(crate) leaving: Vec<usize>,
    /// Nodes of freed children and lanes.
    pub(crate) inner: Bits,
    /// What is unseen of each block costs nothing to look up.
    pub(crate) sums: BTreeMap<usize, BlockSum>,
    pub(crate) pieces: Pieces,
    pub(crate) time: Ticks,
    /// The fewest nodes to the end of the unit, blocks done as a whole; none where it is not reached.
    pub(super) to_end: Vec<Option<u32>>,
}

impl<'g> Index<'g> {
    pub(crate) fn of(graph: &'g StepGraph) -> Self {
        let count = graph.flow.node_count();
        let outs: Vec<Vec<Out<'g>>> = graph
            .flow
            .node_indices()
            .map(|node| {
                let ways = graph.ways(node).into_iter();
                let leaves = graph.node(node).effects.contains(&Effect::LeaveBlocks);
                ways.map(|(way, edge, to)| Out {
                    way,
                    to: to.index(),
                    effects: &edge.effects,
                    leaves: leaves || edge.effects.contains(&Effect::LeaveBlocks),
                })
                .collect()
            })
            .collect();
        let pieces = Pieces::of(graph);
        let mut index = Self {
            graph,
            bounds: Bounds::USUAL,
            to_draw: std::cell::Cell::new(MOST_IN_ALL),
            outs,
            units: Vec::new(),
            unit: vec![None; count],
            blocks: BTreeMap::new(),
            touched: BTreeMap::new(),
            decides: Vec::new(),
            learns: Bits::below(count),
            passes_by: Vec::new(),
            bodies: Vec::new(),
            counted: Vec::new(),
            afresh: vec![Vec::new(); graph.repeats.len()],
            outside: Bits::below(count),
            leaving: Vec::new(),
            inner: Bits::below(count),
            sums: BTreeMap::new(),
            time: Ticks::of(graph),
            pieces,
            to_end: vec![None; count],
        };
        index.divide(graph.start.index(), None);
        for node in 0..count {
            index.touch(node);
        }
        for nodes in index.touched.values_mut() {
            nodes.sort_unstable();
            nodes.dedup();
        }
        index.outside = index.reached(index.left_for(), None);
        for (id, unit) in index.units.iter().enumerate() {
            if id > 0 {
                unit.nodes.iter().for_each(|node| _ = index.inner.insert(*node));
            }
            let mut outs = unit.nodes.iter().flat_map(|node| &index.outs[*node]);
            index.leaving.extend(outs.any(|out| out.leaves).then_some(id));
        }
        index.branches();
        index.bypasses();
        index.repeats();
        index.lengths();
        index
    }

    /// The same, for states that are drawn and never listed.
    pub(crate) fn drawing(graph: &'g StepGraph) -> Self {
        Self { bounds: Bounds::NONE, ..Self::of(graph) }
    }

    pub(crate) fn kind(&self, node: usize) -> &'g NodeKind {
        &self.graph.node(NodeId::new(node)).kind
    }

    pub(crate) fn effects(&self, node: usize) -> &'g [Effect] {
        &self.graph.node(NodeId::new(node)).effects
    }

    /// Every node of a unit, those of the blocks in it too.
    pub(crate) fn inside(&self, unit: usize) -> Vec<usize> {
        let mut nodes = Vec::new();
        let mut left = vec![unit];
        while let Some(unit) = left.pop().and_then(|unit| self.units.get(unit)) {
            for node in &unit.nodes {
                nodes.push(*node);
                left.extend(self.blocks.get(node).into_iter().flatten());
            }
        }
        nodes
    }

    /// The block of which the most children or lanes touch some variables; of several the first.
    pub(crate) fn most_touching(&self, variables: &BTreeSet<VariableId>) -> Option<usize> {
        let nodes = self.touched.iter().filter_map(|(cell, nodes)| match cell {
            Cell::Value(id) | Cell::Proved(id) | Cell::Held(id) => {
                variables.contains(id).then_some(nodes)
            }
            Cell::Taken(_) | Cell::Found(..) | Cell::Piece(_) => None,
        });
        let nodes: BTreeSet<usize> = nodes.flatten().copied().collect();
        let touches = |unit: &usize| self.inside(*unit).iter().any(|node| nodes.contains(node));
        let touching = |units: &[usize]| units.iter().filter(|unit| touches(unit)).count();
        let blocks = self.blocks.iter().rev();
        blocks.max_by_key(|(_, units)| touching(units)).map(|(block, _)| *block)
    }

    /// Whether somebody works beside a unit.
    pub(super) fn is_in_lane(&self, unit: usize) -> bool {
        let mut inside = self.units[unit].inside;
        while let Some((around, block, _)) = inside {
            if matches!(self.kind(block), NodeKind::Together { .. }) {
                return true;
            }
            inside = self.units[around].inside;
        }
        false
    }

    /// Whether there is nothing behind a node of a block but the end of the job, or what blocks are left for. Whoever
    /// stands there has done all else that is done in the block: before the job is over, others may still act on that.
    pub(super) fn is_last_ahead(&self, node: usize, in_lane: bool) -> bool {
        let leads_out =
            |out: &Out<'_>| out.leaves || in_lane && matches!(self.kind(out.to), NodeKind::End(_));
        let outs = &self.outs[node];
        !outs.is_empty() && outs.iter().all(leads_out)
    }

    /// Where ways out of every block around lead.
    fn left_for(&self) -> Vec<usize> {
        let leaving = self.outs.iter().flatten().filter(|out| out.leaves);
        leaving.map(|out| out.to).collect::<BTreeSet<_>>().into_iter().collect()
    }

    /// Gathers a unit from its first node, then those of the blocks in it.
    fn divide(&mut self, first: usize, inside: Option<(usize, usize, u16)>) -> usize {
        let id = self.units.len();
        self.units.push(Unit { inside, nodes: Vec::new(), first, finishes: false });
        let mut nodes = Vec::new();
        let mut blocks = Vec::new();
        let mut open = vec![(first, 0)];
        self.unit[first] = Some(id);
        if inside.is_none() {
            // What blocks are left for is the job's, even where nothing else leads there.
            for to in self.left_for().into_iter().filter(|to| *to != first) {
                self.unit[to] = Some(id);
                open.push((to, 0));
            }
        }
        while let Some((node, next)) = open.pop() {
            let ahead = self.outs[node].get(next).copied();
            let Some(out) = ahead else {
                nodes.push(node);
                if matches!(self.kind(node), NodeKind::AnyOrder { .. } | NodeKind::Together { .. })
                {
                    blocks.push(node);
                }
                continue;
            };
            open.push((node, next + 1));
            let within = !matches!(out.way, Way::Child(_) | Way::Again) && !out.leaves;
            if within && self.unit[out.to].is_none() {
                self.unit[out.to] = Some(id);
                open.push((out.to, 0));
            }
        }
        let is_end = |node: &usize| self.kind(*node).back_to().is_some();
        self.units[id].finishes = nodes.iter().any(is_end);
        self.units[id].nodes = nodes;
        for block in blocks {
            let children: Vec<(u16, usize)> = self.outs[block]
                .iter()
                .filter_map(|out| {
                    if let Way::Child(child) = out.way { Some((child, out.to)) } else { None }
                })
                .collect();
            let units = children
                .into_iter()
                .map(|(child, first)| self.divide(first, Some((id, block, child))))
                .collect();
            self.blocks.insert(block, units);
        }
        id
    }

    fn touch(&mut self, node: usize) {
        if let NodeKind::Enter { call, as_found, .. } | NodeKind::Leave { call, as_found, .. } =
            self.kind(node)
        {
            for variable in as_found {
                self.touched.entry(Cell::Found(*call, *variable)).or_default().push(node);
            }
        }
        if let NodeKind::Branch(condition) = self.kind(node) {
            for test in condition.tests() {
                if let Test::Held { variable, .. } = test {
                    self.touched.entry(Cell::Held(*variable)).or_default().push(node);
                    self.learns.insert(node);
                }
            }
        }
        let of_edges: Vec<&'g Effect> =
            self.outs[node].iter().flat_map(|out| out.effects).collect();
        let effects = self.effects(node).iter().chain(of_edges);
        for effect in effects {
            for cell in self.cells_of(effect) {
                self.touched.entry(cell).or_default().push(node);
            }
            if let Effect::Afresh { repeat } = effect
                && let Some(nodes) = self.afresh.get_mut(usize::from(repeat.0))
            {
                nodes.push(node);
            }
        }
    }

    /// What an effect may change.
    fn cells_of(&self, effect: &Effect) -> Vec<Cell> {
        match effect {
            Effect::Set { variable, .. } => {
                let mut cells = vec![Cell::Value(*variable), Cell::Proved(*variable)];
                cells.extend(
                    self.time.longest.contains_key(variable).then_some(Cell::Held(*variable)),
                );
                cells
            }
            Effect::Prove { variable } => vec![Cell::Proved(*variable)],
            Effect::Wait { .. } | Effect::WaitSince { .. } | Effect::Mark { .. } => {
                self.time.longest.keys().map(|variable| Cell::Held(*variable)).collect()
            }
            Effect::Take { reading } => {
                let mut cells = vec![Cell::Taken(*reading)];
                cells.extend(self.pieces.on(*reading).map(Cell::Piece));
                cells
            }
            Effect::Void { readings, proofs } => {
                let mut cells: Vec<Cell> = proofs.iter().map(|id| Cell::Proved(*id)).collect();
                for reading in readings {
                    cells.push(Cell::Taken(*reading));
                    cells.extend(self.pieces.on(*reading).map(Cell::Piece));
                }
                cells
            }
            Effect::Afresh { .. } | Effect::LeaveBlocks => Vec::new(),
        }
    }

    /// What a condition depends on. What cannot be watched (a sum with too many bounds) is left free.
    pub(crate) fn cells(&self, condition: &Condition) -> BTreeSet<Cell> {
        let mut cells = BTreeSet::new();
        for test in condition.tests() {
            match test {
                Test::Is { variable, .. } => {
                    cells.insert(Cell::Value(*variable));
                }
                Test::Proved { variable, .. } => {
                    cells.extend([Cell::Value(*variable), Cell::Proved(*variable)]);
                }
                Test::Held { variable, .. } => {
                    cells.extend([Cell::Value(*variable), Cell::Held(*variable)]);
                }
                Test::Within { value, .. } => {
                    cells.extend(self.pieces.position(value).map(Cell::Piece));
                }
            }
        }
        cells
    }
}
