//! How a system is filled: which nodes are kept, what leads where, what each way does to a state.

use super::bits::{Bits, Positions};
use super::index::{BlockSum, Cell, Index, Out};
use super::layout::{Asks, Slot};
use super::likeness::Look;
use super::slice::Slice;
use super::system::{Class, Detail, Edge, Judges, Kept, Kind, Op, System};
use locknut_graph::{Effect, NodeKind, RepeatId, VariableId, Way};
use std::collections::{BTreeMap, BTreeSet};

/// Units in which something is seen, and those around them. Only they are looked at: a job may free a thousand steps.
fn marked_units(index: &Index<'_>, seen: &Bits) -> BTreeSet<usize> {
    let mut marked = BTreeSet::from([0]);
    // Whoever leaves the block is seen where something is seen behind it.
    let leaving = if index.outside.meets(seen) { index.leaving.as_slice() } else { &[] };
    let seeing = seen.all().filter_map(|node| index.unit[node]);
    for unit in seeing.chain(leaving.iter().copied()) {
        let mut next = Some(unit);
        while let Some(unit) = next.filter(|unit| marked.insert(*unit)) {
            next = index.units[unit].inside.map(|(around, ..)| around);
        }
    }
    marked
}

/// Where somebody stands, and the block and lane, where people work side by side.
type Stand = (Slot, Option<(usize, u16)>);

/// A system while it is filled.
pub(super) struct Building<'b> {
    slice: &'b Slice,
    seen: &'b Bits,
    pub(super) judges: &'b Judges<'b>,
    detail: Detail,
    marked: BTreeSet<usize>,
    /// The blocks in which they stand.
    blocks: BTreeSet<usize>,
    /// The kept node that each node comes to.
    follow: Positions,
    /// Where the rounds of a kept repeat are counted.
    pub(super) repeats: BTreeMap<u16, Slot>,
    /// Where a kept repeat counts afresh.
    afresh: Vec<usize>,
    /// Where whoever works in a marked unit stands, and the lane.
    stands: BTreeMap<usize, Stand>,
}

impl<'b> Building<'b> {
    pub(super) fn new(
        index: &Index<'_>,
        slice: &'b Slice,
        seen: &'b Bits,
        judges: &'b Judges<'b>,
        detail: Detail,
    ) -> Self {
        let marked = marked_units(index, seen);
        let inside = marked.iter().filter_map(|unit| index.units[*unit].inside);
        Self {
            slice,
            seen,
            judges,
            detail,
            blocks: inside.map(|(_, block, _)| block).collect(),
            marked,
            follow: Positions::below(index.outs.len()),
            repeats: BTreeMap::new(),
            afresh: Vec::new(),
            stands: BTreeMap::new(),
        }
    }

    /// Fills a system that has but its layout.
    pub(super) fn fill(mut self, system: &mut System<'_, '_>) {
        let index = system.index;
        self.keep(system);
        self.make_room(system);
        for unit in self.marked.iter().rev() {
            self.unit(system, *unit);
        }
        system.first = self.follow.of(index.units[0].first);
    }

    /// Chooses the nodes that are kept, and what every other comes to.
    fn keep(&mut self, system: &mut System<'_, '_>) {
        let index = system.index;
        for (id, body) in (0u16..).zip(&index.bodies) {
            if self.detail != Detail::Verdict || body.meets(self.seen) {
                self.repeats.insert(id, system.layout.room(rounds(index, RepeatId(id))));
            }
        }
        for id in self.repeats.keys() {
            self.afresh.extend(&index.afresh[usize::from(*id)]);
        }
        for (id, unit) in self.marked.iter().map(|unit| (*unit, &index.units[*unit])) {
            let in_lane = index.is_in_lane(id);
            for node in &unit.nodes {
                let is_kept =
                    self.is_kept(index, *node) || id > 0 && index.is_last_ahead(*node, in_lane);
                let only = if is_kept { Err(()) } else { self.only_ahead(index, *node) };
                let comes_to = if let Ok(comes_to) = only {
                    comes_to
                } else {
                    let position = system.nodes.len();
                    system.kept.put(*node, Some(position));
                    // The place is filled in once everything around it is known.
                    system.nodes.push(Kept {
                        node: *node,
                        kind: Kind::Plain,
                        edges: Vec::new(),
                        stands: Slot::NONE,
                        lane: None,
                    });
                    Some(position)
                };
                self.follow.put(*node, comes_to);
            }
        }
    }

    fn is_kept(&self, index: &Index<'_>, node: usize) -> bool {
        if self.detail != Detail::Verdict || self.seen.has(node) || self.afresh.contains(&node) {
            return true;
        }
        match index.kind(node) {
            NodeKind::AnyOrder { .. } | NodeKind::Together { .. } => {
                let endless = |sum: &BlockSum| !sum.endless.is_empty();
                self.blocks.contains(&node) || index.sums.get(&node).is_some_and(endless)
            }
            NodeKind::ChildDone { .. } | NodeKind::LaneDone { .. } => true,
            NodeKind::Repeat(id) => self.repeats.contains_key(&id.0),
            NodeKind::Act(_)
            | NodeKind::Pass
            | NodeKind::Branch(_)
            | NodeKind::Await(_)
            | NodeKind::Enter { .. }
            | NodeKind::Leave { .. }
            | NodeKind::End(_) => false,
        }
    }

    /// The one kept node that all ways come to, or none where all end unseen; an error where there
    /// are several.
    fn only_ahead(&self, index: &Index<'_>, node: usize) -> Result<Option<usize>, ()> {
        let on =
            index.outs[node].iter().filter(|out| !matches!(out.way, Way::Child(_) | Way::Again));
        let mut ahead = on.map(|out| self.follow.of(out.to));
        let only = ahead.clone().flatten().next();
        // Of ways that anyone may take, those that end unseen add nothing; of arms that a state decides
        // between, the one that goes on may be the one that is never taken.
        let asked = index.kind(node).asks();
        let decided = || asked.is_some_and(|asked| self.slice.decides(index, asked));
        let all_alike = ahead.all(|to| to == only || (to.is_none() && !decided()));
        if !all_alike {
            return Err(());
        }
        Ok(only)
    }

    /// Room for where people stand: the job's one place, and one for each lane.
    fn make_room(&mut self, system: &mut System<'_, '_>) {
        let index = system.index;
        let most = u64::try_from(system.nodes.len()).unwrap_or(u64::MAX);
        let everyone = system.layout.room(most);
        system.stands = everyone;
        self.stands.insert(0, (everyone, None));
        for id in &self.marked {
            let Some((around, block, child)) = index.units[*id].inside else { continue };
            let stand = if matches!(index.kind(block), NodeKind::Together { .. }) {
                (system.layout.room(most), Some((block, child)))
            } else {
                self.stand(around)
            };
            self.stands.insert(*id, stand);
        }
    }

    fn stand(&self, unit: usize) -> Stand {
        self.stands.get(&unit).copied().unwrap_or((Slot::NONE, None))
    }

    /// Fills in the kept nodes of a unit; those inside it are filled in already.
    fn unit(&self, system: &mut System<'_, '_>, unit: usize) {
        let index = system.index;
        for node in &index.units[unit].nodes {
            let Some(position) = system.kept.of(*node) else { continue };
            let (kind, edges) = self.node(system, *node);
            let (stands, lane) = self.stand(unit);
            system.nodes[position] = Kept { node: *node, kind, edges, stands, lane };
        }
    }

    fn node(&self, system: &mut System<'_, '_>, node: usize) -> (Kind, Vec<Edge>) {
        let index = system.index;
        match index.kind(node) {
            NodeKind::AnyOrder { .. } => self.order(system, node),
            NodeKind::Together { .. } => self.together(system, node),
            NodeKind::ChildDone { order } => {
                let order = system.kept.of(order.index()).unwrap_or(0);
                // Filled in by the block, which is built after its children.
                (Kind::ChildDone { order, count: None }, Vec::new())
            }
            NodeKind::LaneDone { .. } => (Kind::LaneDone, Vec::new()),
            NodeKind::End(_) => (Kind::End, Vec::new()),
            NodeKind::Repeat(id) => {
                let edges =
                    self.edges(system, node, |way| matches!(way, Way::Again | Way::Failing));
                match self.repeats.get(&id.0) {
                    Some(slot) => (Kind::Repeat(*slot, rounds(index, *id)), edges),
                    None => (
                        Kind::Plain,
                        edges.into_iter().filter(|edge| edge.way == Way::Failing).collect(),
                    ),
                }
            }
            NodeKind::Branch(_) | NodeKind::Await(_) => {
                let edges = self.edges(system, node, |_| true);
                let asked =
                    index.kind(node).asks().filter(|asked| self.slice.decides(index, asked));
                let Some(condition) = asked else { return (Kind::Plain, edges) };
                let asks = Asks::of(index, &system.layout, condition);
                if matches!(index.kind(node), NodeKind::Branch(_)) {
                    (Kind::Branch(asks), edges)
                } else {
                    (Kind::Await(asks), edges)
                }
            }
            NodeKind::Act(_) | NodeKind::Pass | NodeKind::Enter { .. } | NodeKind::Leave { .. } => {
                (Kind::Plain, self.edges(system, node, |_| true))
            }
        }
    }

    fn edges(
        &self,
        system: &System<'_, '_>,
        node: usize,
        which: impl Fn(Way) -> bool,
    ) -> Vec<Edge> {
        let outs = system.index.outs[node].iter();
        outs.filter(|out| which(out.way)).map(|out| self.edge(system, node, out)).collect()
    }

    fn edge(&self, system: &System<'_, '_>, node: usize, out: &Out<'_>) -> Edge {
        let Out { way, to, effects, leaves } = *out;
        let mut ops = Vec::new();
        self.calls(system, node, &mut ops);
        for effect in system.index.effects(node).iter().chain(effects) {
            self.op(system, node, way, effect, &mut ops);
        }
        if let (NodeKind::Repeat(id), Way::Again) = (system.index.kind(node), way) {
            ops.extend(self.repeats.get(&id.0).map(|slot| Op::Round(*slot)));
        }
        let to = self.follow.of(to);
        let reached = to.map(|to| system.nodes[to].node);
        for (id, slot) in &self.repeats {
            let counted = &system.index.counted[usize::from(*id)];
            if reached.is_some_and(|to| counted.has(node) && !counted.has(to)) {
                ops.push(Op::Put(*slot, 0));
            }
        }
        Edge { way, ops, to, length: 1, leaves }
    }

    /// Calls remember how things were found, and forget it when they end.
    fn calls(&self, system: &System<'_, '_>, node: usize, ops: &mut Vec<Op>) {
        let kind = system.index.kind(node);
        let entering = matches!(kind, NodeKind::Enter { .. });
        let (NodeKind::Enter { call, .. } | NodeKind::Leave { call, .. }) = kind else { return };
        for cell in &self.slice.0 {
            if let Cell::Found(of, variable) = cell
                && of == call
                && let Some(found) = system.layout.cell(*cell)
            {
                match system.layout.cell(Cell::Value(*variable)) {
                    Some(value) if entering => ops.push(Op::Find { value, found }),
                    _ => ops.push(Op::Put(found, 0)),
                }
            }
        }
    }

    fn op(
        &self,
        system: &System<'_, '_>,
        node: usize,
        way: Way,
        effect: &Effect,
        ops: &mut Vec<Op>,
    ) {
        let (index, layout) = (system.index, &system.layout);
        match effect {
            Effect::Set { variable, value } => {
                if let Some(slot) = layout.cell(Cell::Value(*variable)) {
                    ops.push(Op::Put(slot, u64::from(*value)));
                }
                let cleared = [Cell::Proved(*variable), Cell::Held(*variable)];
                ops.extend(
                    cleared
                        .into_iter()
                        .filter_map(|cell| layout.cell(cell))
                        .map(|slot| Op::Put(slot, 0)),
                );
                ops.extend(layout.moments_of(*variable).map(|slot| Op::Put(slot, 0)));
            }
            Effect::Prove { variable } => {
                ops.extend(layout.cell(Cell::Proved(*variable)).map(|slot| Op::Put(slot, 1)));
            }
            Effect::Wait { seconds } => {
                let ticks = index.time.at_most(seconds);
                ops.extend(self.times(system).map(|(_, time, most)| Op::Wait(time, ticks, most)));
            }
            Effect::Mark { moment } => {
                ops.extend(self.times(system).filter_map(|(variable, time, _)| {
                    Some(Op::Mark { time, moment: layout.moment(variable, *moment)? })
                }));
            }
            Effect::WaitSince { seconds, moment } => {
                let ticks = index.time.at_most(seconds);
                ops.extend(self.times(system).filter_map(|(variable, time, most)| {
                    Some(Op::Since { time, moment: layout.moment(variable, *moment)?, ticks, most })
                }));
            }
            Effect::Take { reading } => {
                ops.extend(layout.cell(Cell::Taken(*reading)).map(|slot| Op::Put(slot, 1)));
                let NodeKind::Act(act) = index.kind(node) else { return };
                for piece in index.pieces.on(*reading) {
                    let Some(slot) = layout.cell(Cell::Piece(piece)) else { continue };
                    ops.push(match index.pieces.after(piece, act, way) {
                        Some(pieces) => Op::Pick(slot, pieces),
                        None => Op::Put(slot, 0),
                    });
                }
            }
            Effect::Void { readings, proofs } => {
                for reading in readings {
                    ops.extend(layout.cell(Cell::Taken(*reading)).map(|slot| Op::Put(slot, 0)));
                    let pieces = index
                        .pieces
                        .on(*reading)
                        .filter_map(|piece| layout.cell(Cell::Piece(piece)));
                    ops.extend(pieces.map(|slot| Op::Put(slot, 0)));
                }
                let proofs = proofs.iter().filter_map(|id| layout.cell(Cell::Proved(*id)));
                ops.extend(proofs.map(|slot| Op::Put(slot, 0)));
            }
            // The way itself says so.
            Effect::LeaveBlocks => {}
            Effect::Afresh { repeat } => {
                ops.extend(self.repeats.get(&repeat.0).map(|slot| Op::Put(*slot, 0)));
            }
        }
    }

    /// Variables whose waited time is watched, with the longest that is asked for.
    fn times<'s>(
        &'s self,
        system: &'s System<'_, '_>,
    ) -> impl Iterator<Item = (VariableId, Slot, u64)> + 's {
        self.slice.0.iter().filter_map(move |cell| {
            let Cell::Held(variable) = cell else { return None };
            let most = system.index.time.longest.get(variable).copied().unwrap_or(0);
            Some((*variable, system.layout.cell(*cell)?, most))
        })
    }

    fn order(&self, system: &mut System<'_, '_>, node: usize) -> (Kind, Vec<Edge>) {
        let index = system.index;
        let mut edges = Vec::new();
        let mut classes: Vec<(Look, Class)> = Vec::new();
        let mut class_of = Vec::new();
        let Unseen { count, shortest, stuck } = self.unseen(index, node);
        let unseen = count + shortest;
        for (unit, child) in self.marked_in(index, node) {
            let Some(out) = index.way_to(node, child) else { continue };
            let edge = self.edge(system, node, out);
            let look = Look::of(self, system, &edge);
            let position = edges.len();
            edges.push(edge);
            let known = classes.iter().position(|(known, _)| known.marks == look.marks);
            let class = if let Some(class) = known {
                for (one, other) in classes[class].0.nodes.iter().zip(&look.nodes) {
                    system.unite(*one, *other);
                }
                classes[class].1.members.push(position);
                class
            } else {
                classes.push((look, Class { done: Slot::NONE, members: vec![position] }));
                classes.len() - 1
            };
            class_of.push((unit, class));
        }
        let mut classes: Vec<Class> = classes.into_iter().map(|(_, class)| class).collect();
        for class in &mut classes {
            class.done = system.layout.room(u64::try_from(class.members.len()).unwrap_or(u64::MAX));
            system.of_blocks.push(class.done);
        }
        // A child's end counts in its class.
        for (unit, class) in class_of {
            let kept: Vec<usize> =
                index.units[unit].nodes.iter().filter_map(|end| system.kept.of(*end)).collect();
            for end in kept {
                if let Kind::ChildDone { count, .. } = &mut system.nodes[end].kind {
                    *count = Some(classes[class].done);
                }
            }
        }
        let clear: Vec<Op> = classes.iter().map(|class| Op::Put(class.done, 0)).collect();
        if let Some(out) = index.outs[node].iter().find(|out| out.way == Way::Next) {
            let mut next = self.edge(system, node, out);
            next.ops.extend(clear);
            next.length += unseen;
            edges.push(next);
        }
        (Kind::Order { classes, stuck }, edges)
    }

    /// Marked children or lanes of a block, with their numbers.
    fn marked_in(&self, index: &Index<'_>, block: usize) -> impl Iterator<Item = (usize, u16)> {
        self.marked.iter().filter_map(move |unit| {
            let (_, of, child) = index.units[*unit].inside?;
            (of == block).then_some((*unit, child))
        })
    }

    /// The rest of them.
    fn unseen(&self, index: &Index<'_>, block: usize) -> Unseen {
        let units = index.blocks.get(&block).map_or(0, Vec::len);
        let mut unseen =
            Unseen { count: u32::try_from(units).unwrap_or(u32::MAX), shortest: 0, stuck: false };
        if let Some(sum) = index.sums.get(&block) {
            unseen.shortest = sum.shortest;
            unseen.stuck = sum.endless.iter().any(|unit| !self.marked.contains(unit));
        }
        for (unit, _) in self.marked_in(index, block) {
            unseen.count -= 1;
            unseen.shortest -= index.shortest(unit);
        }
        unseen
    }

    fn together(&self, system: &mut System<'_, '_>, node: usize) -> (Kind, Vec<Edge>) {
        let index = system.index;
        let Unseen { shortest: unseen, stuck, .. } = self.unseen(index, node);
        let lanes: Vec<(Slot, Option<usize>)> = self
            .marked_in(index, node)
            .map(|(unit, _)| (self.stand(unit).0, self.follow.of(index.units[unit].first)))
            .collect();
        system.of_blocks.extend(lanes.iter().map(|(stands, _)| *stands));
        let mut edges = Vec::new();
        if let Some(out) = index.outs[node].iter().find(|out| out.way == Way::Next) {
            let mut next = self.edge(system, node, out);
            next.ops.extend(lanes.iter().map(|(stands, _)| Op::Put(*stands, 0)));
            next.length += unseen;
            edges.push(next);
        }
        (Kind::Together { lanes, stuck }, edges)
    }
}

/// Children or lanes of a block in which nothing is seen.
struct Unseen {
    count: u32,
    /// The fewest nodes in which all of them are done.
    shortest: u32,
    /// One of them never comes to its end.
    stuck: bool,
}

fn rounds(index: &Index<'_>, repeat: RepeatId) -> u64 {
    index.graph.repeats.get(usize::from(repeat.0)).map_or(0, |repeat| u64::from(repeat.times))
}
