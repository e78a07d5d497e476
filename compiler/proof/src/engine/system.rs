//! A graph as one slice sees it: the nodes that matter, led straight to one another.
//!
//! A node that changes nothing watched, judges nothing and decides nothing is passed over: whatever leads
//! to it leads to what comes after it. Freed children that look alike are counted instead of told apart;
//! those in which nothing is seen, and people of whom nothing is seen, are left out. All of this is exact,
//! because what is left out can neither be noticed by what is kept nor keep it back.

use super::bits::{Bits, Mask};
use super::index::{Cell, Index};
use super::layout::{Asks, Layout, Slot};
use super::slice::{Slice, asked_at};
use locknut_graph::{Condition, Effect, NodeKind, RepeatId, VariableId, Way};
use std::collections::BTreeMap;

/// How much is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Detail {
    /// What the verdict needs.
    Verdict,
    /// Every node of the job, and of those blocks in which something is seen: for a path that can be gone.
    Path,
    /// Every node.
    Everything,
}

/// A change of a state.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Op {
    Put(Slot, u64),
    /// Time passes, up to the longest that is asked for.
    Wait(Slot, u64, u64),
    /// What has been waited by now, and one more.
    Mark {
        time: Slot,
        moment: Slot,
    },
    /// A floor, not a sum.
    Since {
        time: Slot,
        moment: Slot,
        ticks: u64,
        most: u64,
    },
    /// One of these pieces, whichever.
    Pick(Slot, Mask),
    /// A value as it is found, and one more.
    Find {
        value: Slot,
        found: Slot,
    },
}

/// A way between kept nodes.
#[derive(Clone, Debug)]
pub(crate) struct Edge {
    pub(crate) way: Way,
    pub(crate) ops: Vec<Op>,
    /// The kept node it leads to; none where the job ends unseen.
    pub(crate) to: Option<usize>,
    /// Nodes done by taking it.
    pub(crate) length: u32,
}

/// A node that is kept.
#[derive(Clone, Debug)]
pub(crate) struct Kept {
    pub(crate) node: usize,
    pub(crate) kind: Kind,
    pub(crate) edges: Vec<Edge>,
    /// Where the one who is at it stands.
    pub(crate) stands: Slot,
    /// The block and lane it is in, where people work side by side.
    pub(crate) lane: Option<(usize, u16)>,
}

#[derive(Clone, Debug)]
pub(crate) enum Kind {
    /// Any way may be taken.
    Plain,
    /// The first way where it holds, else the second.
    Branch(Asks),
    /// Blocks until it holds.
    Await(Asks),
    /// Rounds taken and allowed; ways: again, failing.
    Repeat(Slot, u64),
    /// Freed children by class, each with the ways to its members; the last way leads on. `stuck`: a
    /// child that is not told apart never comes to its end.
    Order {
        classes: Vec<Class>,
        stuck: bool,
    },
    /// The end of a child of this class.
    ChildDone {
        order: usize,
        count: Option<Slot>,
    },
    /// People side by side: where each stands, and where each begins; the only way leads on.
    Together {
        lanes: Vec<(Slot, Option<usize>)>,
        stuck: bool,
    },
    LaneDone,
    End,
}

/// Freed children that look alike.
#[derive(Clone, Debug)]
pub(crate) struct Class {
    pub(crate) done: Slot,
    /// Ways to its members, in written order.
    pub(crate) members: Vec<usize>,
}

/// A bit of a state for whoever prints hazards: it is set when the condition comes true, and cleared
/// by passing a guarded node.
pub(crate) struct Flag {
    pub(crate) slot: Slot,
    pub(crate) asks: Asks,
    pub(crate) guarded: Bits,
}

/// What is to be explored.
pub(crate) struct System<'i, 'g> {
    pub(crate) index: &'i Index<'g>,
    pub(crate) layout: Layout,
    pub(crate) nodes: Vec<Kept>,
    /// The position of a node among the kept ones.
    pub(crate) kept: Vec<Option<usize>>,
    pub(crate) first: Option<usize>,
    pub(crate) flag: Option<Flag>,
    /// Where the job as a whole stands.
    pub(crate) stands: Slot,
    /// Freed nodes that stand for each other: each node's representative.
    peers: Vec<usize>,
}

/// What is judged at a node, told: nodes of which the same is told are judged alike.
pub(crate) type Judges<'a> = dyn Fn(usize) -> String + 'a;

impl<'i, 'g> System<'i, 'g> {
    /// Builds what is to be explored. `seen` are the nodes that the slice sees, its places among them.
    pub(crate) fn build(
        index: &'i Index<'g>,
        slice: &Slice,
        seen: &Bits,
        judges: &Judges<'_>,
        detail: Detail,
        flagged: Option<(&Condition, Bits)>,
    ) -> Self {
        let mut layout = Layout::of(index, slice);
        let flag = flagged.map(|(condition, guarded)| Flag {
            slot: layout.room(1),
            asks: Asks::of(index, &layout, condition),
            guarded,
        });
        let marked = marked_units(index, seen, detail);
        let mut system = Self {
            index,
            layout,
            nodes: Vec::new(),
            kept: vec![None; index.outs.len()],
            first: None,
            flag,
            stands: Slot::NONE,
            peers: Vec::new(),
        };
        let mut building = Building {
            slice,
            seen,
            judges,
            detail,
            marked,
            follow: vec![None; index.outs.len()],
            repeats: BTreeMap::new(),
            afresh: Vec::new(),
            stands: Vec::new(),
            lanes: Vec::new(),
        };
        building.keep(&mut system);
        building.make_room(&mut system);
        for unit in (0..index.units.len()).rev() {
            if building.marked[unit] {
                building.unit(&mut system, unit);
            }
        }
        system.first = building.follow[index.units[0].first];
        system
    }

    /// The node that stands for a node and all those that are alike.
    pub(crate) fn peer(&self, node: usize) -> usize {
        let mut at = node;
        while let Some(next) = self.peers.get(at).copied().filter(|next| *next != at) {
            at = next;
        }
        at
    }

    fn unite(&mut self, one: usize, other: usize) {
        if self.peers.is_empty() {
            self.peers = (0..self.index.outs.len()).collect();
        }
        let (one, other) = (self.peer(one), self.peer(other));
        let (least, most) = (one.min(other), one.max(other));
        self.peers[most] = least;
    }
}

/// Units in which something is seen, and those around them.
fn marked_units(index: &Index<'_>, seen: &Bits, detail: Detail) -> Vec<bool> {
    let mut marked = vec![detail == Detail::Everything; index.units.len()];
    marked[0] = true;
    for (id, unit) in index.units.iter().enumerate().rev() {
        let sees = marked[id] || unit.nodes.iter().any(|node| seen.has(*node));
        marked[id] = sees;
        if let (true, Some((around, ..))) = (sees, unit.inside) {
            marked[around] = true;
        }
    }
    marked
}

struct Building<'b> {
    slice: &'b Slice,
    seen: &'b Bits,
    judges: &'b Judges<'b>,
    detail: Detail,
    marked: Vec<bool>,
    /// The kept node that each node comes to.
    follow: Vec<Option<usize>>,
    /// Where the rounds of a kept repeat are counted.
    repeats: BTreeMap<u16, Slot>,
    /// Where a kept repeat counts afresh.
    afresh: Vec<usize>,
    stands: Vec<Slot>,
    lanes: Vec<Option<(usize, u16)>>,
}

impl Building<'_> {
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
        for (id, unit) in index.units.iter().enumerate() {
            if !self.marked[id] {
                continue;
            }
            for node in &unit.nodes {
                let only = if self.is_kept(index, *node) {
                    Err(())
                } else {
                    self.only_ahead(index, *node)
                };
                self.follow[*node] = if let Ok(comes_to) = only {
                    comes_to
                } else {
                    let position = system.nodes.len();
                    system.kept[*node] = Some(position);
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
            }
        }
    }

    fn is_kept(&self, index: &Index<'_>, node: usize) -> bool {
        if self.detail != Detail::Verdict || self.seen.has(node) || self.afresh.contains(&node) {
            return true;
        }
        match index.kind(node) {
            NodeKind::AnyOrder { .. } | NodeKind::Together { .. } => {
                let units = index.blocks.get(&node).map(Vec::as_slice).unwrap_or_default();
                units.iter().any(|unit| self.marked[*unit] || !index.units[*unit].finishes)
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
        let mut only = None;
        for out in &index.outs[node] {
            if matches!(out.way, Way::Child(_) | Way::Again) {
                continue;
            }
            match (only, self.follow[out.to]) {
                (_, None) => {}
                (None, ahead) => only = ahead,
                (Some(one), Some(other)) if one == other => {}
                (Some(_), Some(_)) => return Err(()),
            }
        }
        Ok(only)
    }

    /// Room for where people stand: the job's one place, and one for each lane.
    fn make_room(&mut self, system: &mut System<'_, '_>) {
        let index = system.index;
        let most = u64::try_from(system.nodes.len()).unwrap_or(u64::MAX);
        self.lanes = vec![None; index.units.len()];
        let everyone = system.layout.room(most);
        system.stands = everyone;
        self.stands = vec![everyone; index.units.len()];
        for (id, unit) in index.units.iter().enumerate() {
            let Some((around, block, child)) = unit.inside.filter(|_| self.marked[id]) else {
                continue;
            };
            if matches!(index.kind(block), NodeKind::Together { .. }) {
                self.stands[id] = system.layout.room(most);
                self.lanes[id] = Some((block, child));
            } else {
                self.stands[id] = self.stands[around];
                self.lanes[id] = self.lanes[around];
            }
        }
    }

    /// Fills in the kept nodes of a unit; those inside it are filled in already.
    fn unit(&self, system: &mut System<'_, '_>, unit: usize) {
        let index = system.index;
        for node in &index.units[unit].nodes {
            let Some(position) = system.kept[*node] else { continue };
            let (kind, edges) = self.node(system, *node);
            let lane = self.lanes[unit];
            let stands = self.stands[unit];
            system.nodes[position] = Kept { node: *node, kind, edges, stands, lane };
        }
    }

    fn node(&self, system: &mut System<'_, '_>, node: usize) -> (Kind, Vec<Edge>) {
        let index = system.index;
        match index.kind(node) {
            NodeKind::AnyOrder { .. } => self.order(system, node),
            NodeKind::Together { .. } => self.together(system, node),
            NodeKind::ChildDone { order } => {
                let order = system.kept[order.index()].unwrap_or(0);
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
                let asked = asked_at(index, node).filter(|asked| self.slice.decides(index, asked));
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
        outs.filter(|out| which(out.way))
            .map(|out| self.edge(system, node, out.way, out.to, out.effects))
            .collect()
    }

    fn edge(
        &self,
        system: &System<'_, '_>,
        node: usize,
        way: Way,
        to: usize,
        effects: &[Effect],
    ) -> Edge {
        let mut ops = Vec::new();
        self.calls(system, node, &mut ops);
        for effect in system.index.effects(node).iter().chain(effects) {
            self.op(system, node, way, effect, &mut ops);
        }
        let to = self.follow[to];
        let reached = to.map(|to| system.nodes[to].node);
        for (id, slot) in &self.repeats {
            let counted = &system.index.counted[usize::from(*id)];
            if reached.is_some_and(|to| counted.has(node) && !counted.has(to)) {
                ops.push(Op::Put(*slot, 0));
            }
        }
        Edge { way, ops, to, length: 1 }
    }

    /// Calls remember how things were found, and forget it when they end.
    fn calls(&self, system: &System<'_, '_>, node: usize, ops: &mut Vec<Op>) {
        let (call, entering) = match system.index.kind(node) {
            NodeKind::Enter { call, .. } => (*call, true),
            NodeKind::Leave { call, .. } => (*call, false),
            NodeKind::Act(_)
            | NodeKind::Pass
            | NodeKind::Branch(_)
            | NodeKind::AnyOrder { .. }
            | NodeKind::ChildDone { .. }
            | NodeKind::Together { .. }
            | NodeKind::LaneDone { .. }
            | NodeKind::Await(_)
            | NodeKind::Repeat(_)
            | NodeKind::End(_) => return,
        };
        for cell in &self.slice.0 {
            if let Cell::Found(of, variable) = cell
                && *of == call
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
        let units = index.blocks.get(&node).cloned().unwrap_or_default();
        let mut edges = Vec::new();
        let mut classes: Vec<(Look, Class)> = Vec::new();
        let mut unseen = 0;
        let stuck = units.iter().any(|unit| !index.units[*unit].finishes && !self.marked[*unit]);
        for unit in units {
            let Some((_, _, child)) = index.units[unit].inside else { continue };
            if !self.marked[unit] {
                unseen += 1 + index.shortest(unit);
                continue;
            }
            let out = index.outs[node].iter().find(|out| out.way == Way::Child(child));
            let Some(out) = out else { continue };
            let edge = self.edge(system, node, out.way, out.to, out.effects);
            let look = self.look(system, &edge);
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
            let ends = index.units[unit]
                .nodes
                .iter()
                .filter(|end| matches!(index.kind(**end), NodeKind::ChildDone { .. }));
            for end in ends.filter_map(|end| system.kept[*end]).collect::<Vec<_>>() {
                // For now the number of its class; the place is known once all members are.
                system.nodes[end].edges =
                    vec![Edge { way: Way::Next, ops: Vec::new(), to: Some(class), length: 0 }];
            }
        }
        let mut classes: Vec<Class> = classes.into_iter().map(|(_, class)| class).collect();
        for class in &mut classes {
            class.done = system.layout.room(u64::try_from(class.members.len()).unwrap_or(u64::MAX));
        }
        let ends: Vec<usize> = index
            .blocks
            .get(&node)
            .into_iter()
            .flatten()
            .flat_map(|unit| &index.units[*unit].nodes)
            .filter_map(|end| system.kept[*end])
            .collect();
        for end in ends {
            if let Kind::ChildDone { order, .. } = system.nodes[end].kind {
                let class = system.nodes[end].edges.pop().and_then(|edge| edge.to);
                let count = class.and_then(|class| classes.get(class)).map(|class| class.done);
                system.nodes[end].kind = Kind::ChildDone { order, count };
            }
        }
        let clear: Vec<Op> = classes.iter().map(|class| Op::Put(class.done, 0)).collect();
        if let Some(out) = index.outs[node].iter().find(|out| out.way == Way::Next) {
            let mut next = self.edge(system, node, out.way, out.to, out.effects);
            next.ops.extend(clear);
            next.length += unseen;
            edges.push(next);
        }
        (Kind::Order { classes, stuck }, edges)
    }

    fn together(&self, system: &mut System<'_, '_>, node: usize) -> (Kind, Vec<Edge>) {
        let index = system.index;
        let units = index.blocks.get(&node).cloned().unwrap_or_default();
        let stuck = units.iter().any(|unit| !index.units[*unit].finishes && !self.marked[*unit]);
        let unseen: u32 = units
            .iter()
            .filter(|unit| !self.marked[**unit])
            .map(|unit| index.shortest(*unit))
            .sum();
        let lanes: Vec<(Slot, Option<usize>)> = units
            .iter()
            .filter(|unit| self.marked[**unit])
            .map(|unit| (self.stands[*unit], self.follow[index.units[*unit].first]))
            .collect();
        let mut edges = Vec::new();
        if let Some(out) = index.outs[node].iter().find(|out| out.way == Way::Next) {
            let mut next = self.edge(system, node, out.way, out.to, out.effects);
            next.ops.extend(lanes.iter().map(|(stands, _)| Op::Put(*stands, 0)));
            next.length += unseen;
            edges.push(next);
        }
        (Kind::Together { lanes, stuck }, edges)
    }

    /// A child told in the order of a walk, with all that is seen in it.
    fn look(&self, system: &System<'_, '_>, into: &Edge) -> Look {
        let mut look = Look::default();
        let mut numbers = BTreeMap::new();
        look.marks.extend(into.ops.iter().copied().map(Mark::Op));
        self.look_at(system, into.to, &mut numbers, &mut look);
        look
    }

    fn look_at(
        &self,
        system: &System<'_, '_>,
        from: Option<usize>,
        numbers: &mut BTreeMap<usize, usize>,
        look: &mut Look,
    ) {
        let mut open: Vec<usize> = from.into_iter().collect();
        while let Some(position) = open.pop() {
            let next = numbers.len();
            let number = *numbers.entry(position).or_insert(next);
            if number != next {
                look.marks.push(Mark::Known(number));
                continue;
            }
            let kept = &system.nodes[position];
            look.nodes.push(kept.node);
            look.marks.push(Mark::Node(next, (self.judges)(kept.node)));
            // Ends of the job are the same place for all.
            look.marks.push(match &kept.kind {
                Kind::Plain => Mark::Kind(0, 0),
                Kind::Branch(_) | Kind::Await(_) => Mark::Asks(asked_key(system.index, kept.node)),
                Kind::Repeat(_, times) => Mark::Kind(1, *times),
                Kind::Order { stuck, .. } => Mark::Kind(2, u64::from(*stuck)),
                Kind::ChildDone { .. } => Mark::Kind(3, 0),
                Kind::Together { .. } | Kind::LaneDone => {
                    Mark::Kind(4, u64::try_from(kept.node).unwrap_or(0))
                }
                Kind::End => Mark::Kind(5, 0),
            });
            if let Kind::Order { classes, .. } = &kept.kind {
                for class in classes {
                    look.marks.push(Mark::Kind(6, u64::try_from(class.members.len()).unwrap_or(0)));
                    if let Some(edge) =
                        class.members.first().and_then(|member| kept.edges.get(*member))
                    {
                        look.marks.extend(edge.ops.iter().copied().map(Mark::Op));
                        self.look_at(system, edge.to, numbers, look);
                    }
                }
            }
            let skip = if let Kind::Order { .. } = &kept.kind {
                kept.edges.len().saturating_sub(1)
            } else {
                0
            };
            for edge in kept.edges.iter().skip(skip) {
                let own = |op: &Op| match op {
                    // Rounds and counts are a child's own.
                    Op::Put(slot, _) => {
                        !self.repeats.values().any(|of| of == slot) && !is_count(kept, *slot)
                    }
                    Op::Wait(..)
                    | Op::Mark { .. }
                    | Op::Since { .. }
                    | Op::Pick(..)
                    | Op::Find { .. } => true,
                };
                look.marks.extend(edge.ops.iter().filter(|op| own(op)).copied().map(Mark::Op));
                look.marks.push(Mark::Leads(edge.to.is_some()));
                open.extend(edge.to);
            }
        }
    }
}

fn is_count(kept: &Kept, slot: Slot) -> bool {
    matches!(&kept.kind, Kind::Order { classes, .. } if classes.iter().any(|class| class.done == slot))
}

/// What a child looks like, and its nodes in that order.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
struct Look {
    marks: Vec<Mark>,
    nodes: Vec<usize>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
enum Mark {
    Node(usize, String),
    Kind(u8, u64),
    Asks(String),
    Op(Op),
    Leads(bool),
    Known(usize),
}

/// A condition told so that equal ones are equal wherever they are written.
pub(crate) fn condition_key(condition: &Condition) -> String {
    use locknut_graph::Test;
    let all = |name: &str, parts: &[Condition]| {
        let parts: Vec<String> = parts.iter().map(condition_key).collect();
        format!("{name}({})", parts.join(","))
    };
    match condition {
        Condition::Always(so) => so.to_string(),
        Condition::Not(inner) => format!("not({})", condition_key(inner)),
        Condition::All(parts) => all("all", parts),
        Condition::Any(parts) => all("any", parts),
        Condition::Test(Test::Is { variable, values, .. }) => {
            format!("is {} {values:?}", variable.0)
        }
        Condition::Test(Test::Proved { variable, values, .. }) => {
            format!("proved {} {values:?}", variable.0)
        }
        Condition::Test(Test::Held { variable, values, seconds, under, .. }) => {
            format!("held {} {values:?} {seconds} {under}", variable.0)
        }
        Condition::Test(Test::Within { value, range, .. }) => format!("within {value:?} {range:?}"),
    }
}

fn asked_key(index: &Index<'_>, node: usize) -> String {
    asked_at(index, node).map(condition_key).unwrap_or_default()
}

fn rounds(index: &Index<'_>, repeat: RepeatId) -> u64 {
    index.graph.repeats.get(usize::from(repeat.0)).map_or(0, |repeat| u64::from(repeat.times))
}
