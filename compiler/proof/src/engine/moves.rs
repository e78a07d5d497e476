//! From state to state: where a job may start, and what each way does.

use super::bits::Mask;
use super::explore::MOST_STATES;
use super::index::Cell;
use super::layout::{Asks, Slot};
use super::system::{Kind, Op, System};
use locknut_graph::Way;

/// The moves from one state, gathered again and again in the same memory.
#[derive(Default)]
pub(super) struct Moves {
    /// The kept node, the way by which, and its length.
    pub(super) taken: Vec<(usize, usize, u32)>,
    /// The states after them, one after the other.
    pub(super) words: Vec<u64>,
}

impl Moves {
    pub(super) fn of(&mut self, system: &System<'_, '_>, state: &[u64]) {
        self.taken.clear();
        self.words.clear();
        let Some(at) = system.stands.get(state).checked_sub(1) else { return };
        let at = usize::try_from(at).unwrap_or(0);
        let kept = &system.nodes[at];
        let Kind::Together { lanes, stuck } = &kept.kind else {
            self.from(system, state, at);
            return;
        };
        let stands =
            |slot: &Slot| slot.get(state).checked_sub(1).and_then(|at| usize::try_from(at).ok());
        let stand = lanes.iter().filter_map(|(slot, _)| stands(slot));
        // An end ends the job for all.
        if stand.clone().any(|lane| matches!(system.nodes[lane].kind, Kind::End)) {
            return;
        }
        let mut all_done = !stuck;
        for lane in stand {
            if !matches!(system.nodes[lane].kind, Kind::LaneDone) {
                all_done = false;
                self.from(system, state, lane);
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
                let way = if slot.get(state) < *times { Way::Again } else { Way::Failing };
                for (edge, _) in kept.edges.iter().enumerate().filter(|(_, edge)| edge.way == way) {
                    self.take(system, state, at, edge);
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
            let so = way == Way::Arm(0);
            match asks.hold(state) {
                Some(holds) if holds == so => self.take(system, state, at, edge),
                Some(_) => {}
                None => {
                    let mut known = state.to_vec();
                    asks.learn(&mut known, so);
                    self.take(system, &known, at, edge);
                }
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
            } else {
                self.words[begin * wide..]
                    .chunks_exact_mut(wide)
                    .for_each(|after| apply(after, *op));
            }
        }
        for after in self.words[begin * wide..].chunks_exact_mut(wide) {
            if taken.leaves {
                system.of_blocks.iter().for_each(|slot| slot.put(after, 0));
            }
            match taken.to {
                Some(to) if taken.leaves => system.arrive(after, system.stands, to),
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
        Op::Round(slot) => slot.put(state, slot.get(state) + 1),
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

impl System<'_, '_> {
    /// Somebody comes to a node: at the end of a child or at a block, more follows.
    fn arrive(&self, state: &mut [u64], stands: Slot, to: usize) {
        if let Kind::ChildDone { order, count } = &self.nodes[to].kind {
            if let Some(count) = count {
                count.put(state, count.get(state) + 1);
            }
            stands.put(state, number(*order));
            return;
        }
        stands.put(state, number(to));
        if let Kind::Together { lanes, .. } = &self.nodes[to].kind {
            for (lane, first) in lanes {
                if let Some(first) = first {
                    self.arrive(state, *lane, *first);
                }
            }
        }
    }
}

fn number(position: usize) -> u64 {
    u64::try_from(position).unwrap_or(0) + 1
}

/// The states that a job may start in.
pub(super) fn starts(system: &System<'_, '_>) -> Vec<Vec<u64>> {
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
