//! All states of a system, the nearest first, so that the first way found to a fault is a shortest one.

use super::bits::Mask;
use super::index::Cell;
use super::layout::{Asks, Slot};
use super::system::{Kind, Op, System};
use locknut_graph::{Condition, NodeId, NodeKind, ReadingId, VariableId, Way};
use locknut_quantity::Exact;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

/// The most states that one group of properties may cost; above it a finding says so.
pub(crate) const MOST_STATES: usize = 1 << 18;

/// All states of a system, with the way by which each is nearest.
pub(crate) struct Explored<'s, 'i, 'g> {
    pub(crate) system: &'s System<'i, 'g>,
    words: Vec<u64>,
    came: Vec<Option<Move>>,
    far: Vec<u32>,
    /// Whether the exploration was given up at [`MOST_STATES`].
    pub(crate) given_up: bool,
}

/// A way taken from a state.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Move {
    pub(crate) from: usize,
    /// The kept node that was done, and the way by which.
    pub(crate) node: usize,
    edge: usize,
}

/// What is told of each move, those to states that are known already among them.
pub(crate) type Visit<'v> = dyn FnMut(&[u64], Move, &[u64], u32) + 'v;

impl<'s, 'i, 'g> Explored<'s, 'i, 'g> {
    /// Explores a system; `visit` is told of every move, with the length of the way to its end.
    pub(crate) fn of(system: &'s System<'i, 'g>, visit: &mut Visit<'_>) -> Self {
        let wide = system.layout.words();
        let mut explored =
            Self { system, words: Vec::new(), came: Vec::new(), far: Vec::new(), given_up: false };
        let mut known = Known::new(wide);
        // States by how far they are; all moves being of length one, they come in this very order.
        let mut open: BinaryHeap<Reverse<(u32, usize)>> = BinaryHeap::new();
        let mut even = std::collections::VecDeque::new();
        for start in starts(system) {
            if let (id, true) = known.id(&mut explored.words, &start) {
                explored.came.push(None);
                explored.far.push(0);
                even.push_back(id);
            }
        }
        let uneven = system.nodes.iter().flat_map(|node| &node.edges).any(|edge| edge.length != 1);
        if uneven {
            open.extend(even.drain(..).map(|id| Reverse((0, id))));
        }
        let mut settled = vec![false; explored.came.len()];
        let mut moves = Moves::default();
        let mut state = vec![0; wide];
        loop {
            let id = if uneven {
                let Some(Reverse((far, id))) = open.pop() else { break };
                if settled[id] || far > explored.far[id] {
                    continue;
                }
                id
            } else {
                let Some(id) = even.pop_front() else { break };
                id
            };
            settled[id] = true;
            state.copy_from_slice(&explored.words[id * wide..(id + 1) * wide]);
            moves.of(system, &state);
            for (at, (node, edge, length)) in moves.taken.iter().enumerate() {
                let after = &moves.words[at * wide..(at + 1) * wide];
                let moved = Move { from: id, node: *node, edge: *edge };
                let far = explored.far[id] + length;
                visit(&state, moved, after, far);
                let (to, new) = known.id(&mut explored.words, after);
                if new {
                    explored.came.push(Some(moved));
                    explored.far.push(far);
                    settled.push(false);
                } else if far < explored.far[to] {
                    explored.came[to] = Some(moved);
                    explored.far[to] = far;
                } else {
                    continue;
                }
                if uneven {
                    open.push(Reverse((far, to)));
                } else {
                    even.push_back(to);
                }
            }
            if explored.came.len() > MOST_STATES {
                explored.given_up = true;
                break;
            }
        }
        explored
    }

    pub(crate) fn count(&self) -> usize {
        self.came.len()
    }

    pub(crate) fn state(&self, id: usize) -> &[u64] {
        let wide = self.system.layout.words();
        &self.words[id * wide..(id + 1) * wide]
    }

    pub(crate) fn far(&self, id: usize) -> u32 {
        self.far[id]
    }

    pub(crate) fn came(&self, id: usize) -> Option<Move> {
        self.came[id]
    }

    /// The way to a state: nodes with the way taken out of them, from the start.
    pub(crate) fn trail(&self, to: usize) -> Vec<(NodeId, Way)> {
        let mut moves = Vec::new();
        let mut at = to;
        while let Some(came) = self.came[at] {
            moves.push(came);
            at = came.from;
        }
        let mut trail = Vec::new();
        for moved in moves.into_iter().rev() {
            self.tell(moved, &mut trail);
        }
        trail
    }

    /// The state after a move. Where a value was picked on the way, one of those that may come.
    pub(crate) fn after(&self, moved: Move) -> Vec<u64> {
        let mut moves = Moves::default();
        moves.of(self.system, self.state(moved.from));
        let wide = self.system.layout.words();
        let at = moves
            .taken
            .iter()
            .position(|(node, edge, _)| (*node, *edge) == (moved.node, moved.edge));
        at.map_or_else(
            || self.state(moved.from).to_vec(),
            |at| moves.words[at * wide..(at + 1) * wide].to_vec(),
        )
    }

    /// The way to a state and one move further.
    pub(crate) fn trail_by(&self, moved: Move) -> Vec<(NodeId, Way)> {
        let mut trail = self.trail(moved.from);
        self.tell(moved, &mut trail);
        trail
    }

    /// What was left out of a block, done before it is left.
    pub(crate) fn unseen(&self, block: usize, trail: &mut Vec<(NodeId, Way)>) {
        let index = self.system.index;
        for unit in
            index.blocks.get(&block).into_iter().flatten().map(|unit| (*unit, &index.units[*unit]))
        {
            let (id, unit) = unit;
            let Some((_, _, child)) =
                unit.inside.filter(|_| self.system.kept[unit.first].is_none())
            else {
                continue;
            };
            if let NodeKind::AnyOrder { .. } = index.kind(block) {
                trail.push((NodeId::new(block), Way::Child(child)));
            }
            index.through(id, trail);
        }
    }

    fn tell(&self, moved: Move, trail: &mut Vec<(NodeId, Way)>) {
        let kept = &self.system.nodes[moved.node];
        let edge = &kept.edges[moved.edge];
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

/// Reading a state.
impl System<'_, '_> {
    pub(crate) fn asks(&self, condition: &Condition) -> Asks {
        Asks::of(self.index, &self.layout, condition)
    }

    /// Kept nodes at which somebody stands.
    pub(crate) fn standing_at(&self, state: &[u64], mut tell: impl FnMut(usize)) {
        let Some(first) = self.stands.get(state).checked_sub(1) else { return };
        let at = usize::try_from(first).unwrap_or(0);
        tell(at);
        if let Kind::Together { lanes, .. } = &self.nodes[at].kind {
            for (stands, _) in lanes {
                if let Some(at) = stands.get(state).checked_sub(1) {
                    tell(usize::try_from(at).unwrap_or(0));
                }
            }
        }
    }

    pub(crate) fn values(&self, state: &[u64]) -> BTreeMap<VariableId, u8> {
        self.layout
            .cells()
            .filter_map(|(cell, slot)| match cell {
                Cell::Value(variable) => Some((variable, u8::try_from(slot.get(state)).ok()?)),
                Cell::Proved(_)
                | Cell::Held(_)
                | Cell::Taken(_)
                | Cell::Found(..)
                | Cell::Piece(_) => None,
            })
            .collect()
    }

    pub(crate) fn waited(&self, state: &[u64], variable: VariableId) -> Option<Exact> {
        let slot = self.layout.cell(Cell::Held(variable))?;
        Some(self.index.time.seconds(slot.get(state)))
    }

    /// Whether a variable is otherwise than a call found it.
    pub(crate) fn changed(&self, state: &[u64], call: u16, variable: VariableId) -> bool {
        let found = self.layout.cell(Cell::Found(call, variable)).map_or(0, |slot| slot.get(state));
        let value = self.layout.cell(Cell::Value(variable)).map(|slot| slot.get(state) + 1);
        found != 0 && value != Some(found)
    }

    pub(crate) fn taken(&self, state: &[u64], reading: ReadingId) -> bool {
        self.layout.cell(Cell::Taken(reading)).is_some_and(|slot| slot.get(state) == 1)
    }

    /// Nodes at which somebody waits.
    pub(crate) fn waiting(&self, state: &[u64]) -> Vec<usize> {
        let mut waiting = Vec::new();
        self.standing_at(state, |at| {
            if let Kind::Await(asks) = &self.nodes[at].kind
                && asks.hold(state) == Some(false)
            {
                waiting.push(self.nodes[at].node);
            }
        });
        waiting
    }

    /// Whether people side by side all wait, and none can go on.
    pub(crate) fn stuck(&self, state: &[u64]) -> bool {
        let (mut waiting, mut going) = (false, false);
        self.standing_at(state, |at| match &self.nodes[at].kind {
            Kind::Await(asks) if asks.hold(state) == Some(false) => waiting = true,
            Kind::LaneDone | Kind::Together { .. } => {}
            Kind::Plain
            | Kind::Branch(_)
            | Kind::Await(_)
            | Kind::Repeat(..)
            | Kind::Order { .. }
            | Kind::ChildDone { .. }
            | Kind::End => going = true,
        });
        waiting && !going
    }

    fn arrive(&self, state: &mut [u64], stands: Slot, to: usize) {
        match &self.nodes[to].kind {
            Kind::ChildDone { order, count } => {
                if let Some(count) = count {
                    count.put(state, count.get(state) + 1);
                }
                stands.put(state, number(*order));
            }
            Kind::Together { lanes, .. } => {
                stands.put(state, number(to));
                for (lane, first) in lanes {
                    if let Some(first) = first {
                        self.arrive(state, *lane, *first);
                    }
                }
            }
            Kind::Plain
            | Kind::Branch(_)
            | Kind::Await(_)
            | Kind::Repeat(..)
            | Kind::Order { .. }
            | Kind::LaneDone
            | Kind::End => stands.put(state, number(to)),
        }
    }
}

fn number(position: usize) -> u64 {
    u64::try_from(position).unwrap_or(0) + 1
}

/// The states that a job may start in.
fn starts(system: &System<'_, '_>) -> Vec<Vec<u64>> {
    let graph = system.index.graph;
    let mut start = vec![0; system.layout.words()];
    if let Some(first) = system.first {
        system.arrive(&mut start, system.stands, first);
    }
    let mut starts = vec![start];
    for (cell, slot) in system.layout.cells() {
        let values: Vec<u64> = match cell {
            Cell::Value(variable) => {
                let declared = graph.starts.iter().find(|(id, _)| *id == variable);
                let normal = || vec![graph.variable(variable).normal];
                declared
                    .map_or_else(normal, |(_, values)| values.clone())
                    .into_iter()
                    .map(u64::from)
                    .collect()
            }
            Cell::Proved(variable) => vec![u64::from(graph.starts_proved.contains(&variable))],
            Cell::Held(variable) => {
                let held = graph.starts_held.iter().find(|(id, _)| *id == variable);
                let most = system.index.time.longest.get(&variable).copied().unwrap_or(0);
                vec![held.map_or(0, |(_, seconds)| system.index.time.at_most(seconds).min(most))]
            }
            Cell::Taken(_) | Cell::Found(..) | Cell::Piece(_) => vec![0],
        };
        let with = |start: &Vec<u64>, value: u64| {
            let mut start = start.clone();
            slot.put(&mut start, value);
            start
        };
        starts = starts
            .iter()
            .flat_map(|start| values.iter().map(move |value| with(start, *value)))
            .collect();
        if starts.len() > MOST_STATES {
            break;
        }
    }
    if let Some(flag) = &system.flag {
        for start in &mut starts {
            let now = flag.asks.hold(start) != Some(false);
            flag.slot.put(start, u64::from(now));
        }
    }
    starts
}

/// The moves from one state, gathered again and again in the same memory.
#[derive(Default)]
struct Moves {
    taken: Vec<(usize, usize, u32)>,
    words: Vec<u64>,
}

impl Moves {
    fn of(&mut self, system: &System<'_, '_>, state: &[u64]) {
        self.taken.clear();
        self.words.clear();
        let Some(at) = system.stands.get(state).checked_sub(1) else { return };
        let at = usize::try_from(at).unwrap_or(0);
        let kept = &system.nodes[at];
        let Kind::Together { lanes, stuck } = &kept.kind else {
            self.from(system, state, at);
            return;
        };
        let stand = lanes
            .iter()
            .filter_map(|(stands, _)| usize::try_from(stands.get(state).checked_sub(1)?).ok());
        let mut all_done = !stuck;
        for lane in stand {
            match system.nodes[lane].kind {
                // An end ends the job for all.
                Kind::End => {
                    self.taken.clear();
                    self.words.clear();
                    return;
                }
                Kind::LaneDone => {}
                Kind::Plain
                | Kind::Branch(_)
                | Kind::Await(_)
                | Kind::Repeat(..)
                | Kind::Order { .. }
                | Kind::ChildDone { .. }
                | Kind::Together { .. } => {
                    all_done = false;
                    self.from(system, state, lane);
                }
            }
        }
        // A lane that begins nowhere ends the job unseen, sooner or later.
        all_done &= lanes.iter().all(|(_, first)| first.is_some());
        if all_done {
            self.take(system, state, at, 0);
        }
    }

    fn from(&mut self, system: &System<'_, '_>, state: &[u64], at: usize) {
        let kept = &system.nodes[at];
        match &kept.kind {
            Kind::Plain => {
                (0..kept.edges.len()).for_each(|edge| self.take(system, state, at, edge));
            }
            Kind::Branch(asks) => self.branch(system, state, at, asks),
            Kind::Await(asks) => {
                if asks.hold(state) != Some(false) {
                    self.take(system, state, at, 0);
                }
            }
            Kind::Repeat(slot, times) => {
                let rounds = slot.get(state);
                let way = if rounds < *times { Way::Again } else { Way::Failing };
                for (edge, _) in kept.edges.iter().enumerate().filter(|(_, edge)| edge.way == way) {
                    let before = self.taken.len();
                    self.take(system, state, at, edge);
                    let wide = system.layout.words();
                    if way == Way::Again
                        && self.taken.len() > before
                        && slot.get(&self.words[before * wide..]) == rounds
                    {
                        slot.put(&mut self.words[before * wide..], rounds + 1);
                    }
                }
            }
            Kind::Order { classes, stuck } => {
                let mut all_done = !stuck;
                for class in classes {
                    let done = usize::try_from(class.done.get(state)).unwrap_or(0);
                    if let Some(edge) = class.members.get(done) {
                        all_done = false;
                        self.take(system, state, at, *edge);
                    }
                }
                if all_done && kept.edges.last().is_some_and(|edge| edge.way == Way::Next) {
                    self.take(system, state, at, kept.edges.len() - 1);
                }
            }
            Kind::ChildDone { .. } | Kind::LaneDone | Kind::End | Kind::Together { .. } => {}
        }
    }

    /// Where a value is asked for that is not known yet, any may come and is remembered.
    fn branch(&mut self, system: &System<'_, '_>, state: &[u64], at: usize, asks: &Asks) {
        if let Some((slot, possible)) = asks.not_known(state) {
            for piece in possible.values() {
                let mut known = state.to_vec();
                slot.put(&mut known, piece);
                self.branch(system, &known, at, asks);
            }
            return;
        }
        let arms = &system.nodes[at].edges;
        for (edge, way) in arms.iter().map(|edge| edge.way).enumerate() {
            let taken = match asks.hold(state) {
                Some(true) => way == Way::Arm(0),
                Some(false) => way == Way::Arm(1),
                None => true,
            };
            if taken {
                self.take(system, state, at, edge);
            }
        }
    }

    fn take(&mut self, system: &System<'_, '_>, state: &[u64], at: usize, edge: usize) {
        let kept = &system.nodes[at];
        let taken = &kept.edges[edge];
        // Where the job ends unseen, only what was done last may matter.
        if taken.to.is_none() && taken.ops.is_empty() {
            return;
        }
        let wide = system.layout.words();
        let begin = self.taken.len();
        self.words.extend_from_slice(state);
        self.taken.push((at, edge, taken.length));
        for op in &taken.ops {
            if let Op::Pick(slot, pieces) = op {
                self.pick(wide, begin, *slot, *pieces);
                continue;
            }
            for one in begin..self.taken.len() {
                apply(&mut self.words[one * wide..(one + 1) * wide], *op);
            }
        }
        for one in begin..self.taken.len() {
            let after = &mut self.words[one * wide..(one + 1) * wide];
            match taken.to {
                Some(to) => system.arrive(after, kept.stands, to),
                None => system.stands.put(after, 0),
            }
            if let Some(flag) = &system.flag {
                let now = flag.asks.hold(after) != Some(false);
                let was = flag.asks.hold(state) != Some(false);
                let still = flag.slot.get(state) == 1 && !flag.guarded.has(kept.node);
                flag.slot.put(after, u64::from((now && !was) || still));
            }
        }
    }

    /// One move becomes as many as there are pieces.
    fn pick(&mut self, wide: usize, begin: usize, slot: Slot, pieces: Mask) {
        for one in (begin..self.taken.len()).rev() {
            let taken = self.taken.remove(one);
            let before: Vec<u64> = self.words.drain(one * wide..(one + 1) * wide).collect();
            for piece in pieces.values() {
                self.taken.push(taken);
                let from = self.words.len();
                self.words.extend_from_slice(&before);
                slot.put(&mut self.words[from..], piece);
            }
        }
    }
}

fn apply(state: &mut [u64], op: Op) {
    match op {
        Op::Put(slot, value) => slot.put(state, value),
        Op::Wait(time, ticks, most) => time.put(state, (time.get(state) + ticks).min(most)),
        Op::Mark { time, moment } => moment.put(state, time.get(state) + 1),
        Op::Since { time, moment, ticks, most } => {
            if let Some(then) = moment.get(state).checked_sub(1) {
                let floor = (then + ticks).min(most);
                if floor > time.get(state) {
                    time.put(state, floor);
                }
            }
        }
        Op::Find { value, found } => found.put(state, value.get(state) + 1),
        // Several states come of it: see where moves are taken.
        Op::Pick(..) => {}
    }
}

/// Which states are known: positions by what they hold.
struct Known {
    wide: usize,
    table: hashbrown::HashTable<u32>,
}

impl Known {
    fn new(wide: usize) -> Self {
        Self { wide, table: hashbrown::HashTable::new() }
    }

    /// The position of a state, and whether it is new.
    fn id(&mut self, words: &mut Vec<u64>, state: &[u64]) -> (usize, bool) {
        let wide = self.wide;
        let of = |words: &[u64], id: u32| {
            let at = usize::try_from(id).unwrap_or(0) * wide;
            at..(at + wide).min(words.len())
        };
        let hash = mixed(state);
        if let Some(id) = self.table.find(hash, |id| words[of(words, *id)] == *state) {
            return (usize::try_from(*id).unwrap_or(0), false);
        }
        let id = words.len() / wide;
        words.extend_from_slice(state);
        let words = &*words;
        self.table.insert_unique(hash, u32::try_from(id).unwrap_or(u32::MAX), |id| {
            mixed(&words[of(words, *id)])
        });
        (id, true)
    }
}

/// Spreads words over all bits (the finisher of xorshift-multiply hashes); the same on every machine.
fn mixed(words: &[u64]) -> u64 {
    let mut hash = 0x9E37_79B9_7F4A_7C15_u64;
    for word in words {
        hash = (hash ^ word).wrapping_mul(0xD6E8_FEB8_6659_FD93);
        hash ^= hash >> 32;
    }
    hash
}
