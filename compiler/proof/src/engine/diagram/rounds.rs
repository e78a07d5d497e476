//! The rounds, until nothing new comes.

use super::super::explore::{Move, Visit};
use super::super::layout::Slot;
use super::super::moves::{Moves, starts};
use super::super::system::{Kind, System};
use super::super::watch::{Look, Watch};
use super::order::Order;
use super::set::{Room, Set, TooLarge};
use super::turns::{Turn, distinct, number, turns, writes};
use std::collections::BTreeMap;

/// All states of a system by their distance, and of each thing that is watched where it is met first.
pub(crate) struct Drawn<'s, 'i, 'g> {
    pub(in super::super) system: &'s System<'i, 'g>,
    pub(super) order: Order,
    pub(super) starts: Vec<Vec<u64>>,
    pub(super) turns: Vec<Turn>,
    /// What comes of each turn, by how the slots stand that it depends on.
    pub(super) steps: Vec<BTreeMap<Vec<u64>, Vec<Step>>>,
    /// States that are first reached at each distance, by where the job as a whole stands.
    pub(super) rounds: BTreeMap<u32, BTreeMap<usize, Reached>>,
    /// What was met: the starts, then states, then moves.
    pub(super) met: Vec<Met>,
}

/// States of one distance and place.
pub(super) struct Reached {
    pub(super) all: Set,
    /// Those from which something is done, where that is not all of them.
    going: Option<Set>,
}

impl Reached {
    pub(super) fn going(&self) -> &Set {
        self.going.as_ref().unwrap_or(&self.all)
    }
}

/// One thing that comes of a turn.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Step {
    pub(super) edge: usize,
    length: u32,
    /// The slots that are written, and what stands in them and in those that were looked at afterwards.
    pub(super) writes: Vec<Slot>,
    pub(super) after: Vec<u64>,
}

impl Step {
    pub(super) fn length(&self) -> u32 {
        self.length
    }
}

/// Something that is watched, as it is met first: only these slots of its state are told.
pub(super) struct Met {
    pub(super) far: u32,
    pub(super) place: usize,
    pub(super) slots: Vec<Slot>,
    pub(super) state: Vec<u64>,
    /// The turn and what comes of it, where it is a move.
    pub(super) step: Option<(usize, Step)>,
}

/// What is looked for at a node, and what of that was not met yet.
struct Looking {
    place: usize,
    at: usize,
    look: Look,
    not_met: Set,
}

/// What is looked at before and after each move, and of each turn what of that was not met yet.
struct Watched<'w, 'v> {
    look: &'w Look,
    visit: &'w mut Visit<'v>,
    not_met: Vec<Set>,
}

/// States to come to, by distance and place.
type Open = BTreeMap<u32, BTreeMap<usize, Set>>;

impl<'s, 'i, 'g> Drawn<'s, 'i, 'g> {
    /// Draws all states of a system; none where that is too much.
    pub(in super::super) fn of(
        system: &'s System<'i, 'g>,
        watch: &Watch,
        visit: &mut Visit<'_>,
    ) -> Option<Self> {
        let order = Order::of(system);
        let most = system.index.to_draw.get();
        let mut room = Room::of(&order, most)?;
        let given = room.left();
        let turns = turns(system);
        let mut drawn = Self {
            system,
            order,
            starts: starts(system),
            steps: turns.iter().map(|_| BTreeMap::new()).collect(),
            turns,
            rounds: BTreeMap::new(),
            met: Vec::new(),
        };
        let all = drawn.all_rounds(&mut room, watch, visit);
        system.index.to_draw.set(most - (given - room.left()));
        all.ok().map(|()| drawn)
    }

    fn all_rounds(
        &mut self,
        room: &mut Room,
        watch: &Watch,
        visit: &mut Visit<'_>,
    ) -> Result<(), TooLarge> {
        let system = self.system;
        let mut open = Open::new();
        let slots = system.slots();
        for start in &self.starts {
            let place = stands(system, start);
            let (state, all) = (start.clone(), room.all());
            self.met.push(Met {
                far: 0,
                place: place.unwrap_or(0),
                slots: Vec::new(),
                state,
                step: None,
            });
            // Where nothing is seen the job may have ended with its start.
            let Some(place) = place else { continue };
            let one = room.like(&all, &slots, start)?;
            add(room, &mut open, 0, place, &one)?;
        }
        let mut looking = looking(system, watch, room);
        let mut reached: BTreeMap<usize, Set> = BTreeMap::new();
        let not_met = || self.turns.iter().map(|_| room.all()).collect();
        let mut watched =
            watch.moves.as_ref().map(|look| Watched { look, visit, not_met: not_met() });
        let mut turns_at: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for (turn, Turn { place, .. }) in self.turns.iter().enumerate() {
            turns_at.entry(*place).or_default().push(turn);
        }
        while let Some((far, found)) = open.pop_first() {
            for (place, set) in found {
                let none = room.none();
                let known = reached.get(&place).unwrap_or(&none);
                let new = room.without(&set, known)?;
                if new.is_empty() {
                    continue;
                }
                let all = room.either(known, &new)?;
                reached.insert(place, all);
                for look in looking.iter_mut().filter(|look| look.place == place) {
                    self.look(room, look, &new, far)?;
                }
                room.keep(&new)?;
                let here = Reached { going: going(system, room, place, &new)?, all: new };
                for turn in turns_at.get(&place).into_iter().flatten() {
                    if let Some(watched) = &mut watched {
                        self.watch(room, *turn, here.going(), far, watched)?;
                    }
                    self.turn(room, *turn, here.going(), far, &mut open)?;
                }
                self.rounds.entry(far).or_default().insert(place, here);
            }
        }
        Ok(())
    }

    /// Tells of what was not met yet at a node.
    fn look(
        &mut self,
        room: &mut Room,
        look: &mut Looking,
        new: &Set,
        far: u32,
    ) -> Result<(), TooLarge> {
        let mut left = room.both(new, &look.not_met)?;
        for (slot, values) in &look.look.only {
            left = room.among(&left, *slot, values)?;
        }
        while let Some(one) = room.any(&left) {
            let slots = look.look.decided_by(&one);
            let mut state = self.only_in(&one, &slots);
            self.system.stands.put(&mut state, number(look.place));
            self.system.nodes[look.at].stands.put(&mut state, number(look.at));
            left = room.unlike(&left, &slots, &one)?;
            look.not_met = room.unlike(&look.not_met, &slots, &one)?;
            self.met.push(Met { far, place: look.place, slots, state, step: None });
        }
        Ok(())
    }

    /// Tells of moves that were not met yet.
    fn watch(
        &mut self,
        room: &mut Room,
        turn: usize,
        going: &Set,
        far: u32,
        watched: &mut Watched<'_, '_>,
    ) -> Result<(), TooLarge> {
        let system = self.system;
        let mut left = room.both(going, &watched.not_met[turn])?;
        left = self.able(room, turn, left)?;
        while let Some(mut state) = room.any(&left) {
            let Turn { place, at, edges, reads, .. } = &self.turns[turn];
            system.stands.put(&mut state, number(*place));
            let steps = steps(system, *at, edges, &state);
            let mut slots = reads.clone();
            slots.extend(watched.look.decided_by(&state));
            for step in &steps {
                let decided = watched.look.decided_by(&step.after).into_iter();
                slots.extend(decided.filter(|slot| !step.writes.contains(slot)));
            }
            distinct(&mut slots);
            let mut before = self.only_in(&state, &slots);
            system.stands.put(&mut before, number(*place));
            left = room.unlike(&left, &slots, &state)?;
            watched.not_met[turn] = room.unlike(&watched.not_met[turn], &slots, &state)?;
            for mut step in steps {
                let place_after = system.stands.get(&step.after);
                step.after = self.only_in(&step.after, &step.told(&slots));
                system.stands.put(&mut step.after, place_after);
                let moved = Move { from: self.met.len(), node: *at, edge: step.edge };
                (watched.visit)(&before, moved, &step.after, far + step.length);
                let (slots, state, place) = (slots.clone(), before.clone(), *place);
                self.met.push(Met { far, place, slots, state, step: Some((turn, step)) });
            }
        }
        Ok(())
    }

    /// Those of some states in which a turn may be taken.
    fn able(&self, room: &mut Room, turn: usize, states: Set) -> Result<Set, TooLarge> {
        let mut able = states;
        for (slot, values) in &self.turns[turn].only {
            able = room.among(&able, *slot, values)?;
        }
        Ok(able)
    }

    /// Does what a turn does to all states of a distance.
    fn turn(
        &mut self,
        room: &mut Room,
        turn: usize,
        going: &Set,
        far: u32,
        open: &mut Open,
    ) -> Result<(), TooLarge> {
        let mut left = self.able(room, turn, going.clone())?;
        let reads = self.turns[turn].reads.clone();
        while let Some(one) = room.any(&left) {
            let before = self.only_in(&one, &reads);
            let here = room.given(&left, &reads, &one)?;
            left = if reads.is_empty() { room.none() } else { room.unlike(&left, &reads, &one)? };
            for step in self.steps_of(turn, &before) {
                let Some(place) = stands(self.system, &step.after) else { continue };
                let mut there = here.clone();
                for slot in step.writes.iter().filter(|slot| !reads.contains(slot)) {
                    there = room.forgotten(&there, *slot)?;
                }
                there = room.like(&there, &step.told(&reads), &step.after)?;
                add(room, open, far + step.length, place, &there)?;
            }
        }
        Ok(())
    }

    /// What comes of a turn where the slots that it depends on stand so: asked once.
    fn steps_of(&mut self, turn: usize, before: &[u64]) -> Vec<Step> {
        if let Some(known) = self.steps[turn].get(before) {
            return known.clone();
        }
        let Turn { place, at, edges, .. } = &self.turns[turn];
        let mut state = before.to_vec();
        self.system.stands.put(&mut state, number(*place));
        let steps = steps(self.system, *at, edges, &state);
        self.steps[turn].insert(before.to_vec(), steps.clone());
        steps
    }

    /// A state of which only some slots are told.
    fn only_in(&self, state: &[u64], slots: &[Slot]) -> Vec<u64> {
        let mut only = vec![0; self.system.layout.words()];
        for slot in slots {
            slot.put(&mut only, slot.get(state));
        }
        only
    }
}

impl Step {
    /// The slots of which it is known how they stand afterwards.
    pub(super) fn told(&self, reads: &[Slot]) -> Vec<Slot> {
        let written = self.writes.iter().filter(|slot| !reads.contains(slot));
        reads.iter().chain(written).copied().collect()
    }
}

/// What comes of a state by some edges of a node.
fn steps(system: &System<'_, '_>, at: usize, edges: &[usize], state: &[u64]) -> Vec<Step> {
    let mut moves = Moves::default();
    moves.of(system, state);
    let mut steps: Vec<Step> = Vec::new();
    let states = moves.words.chunks_exact(system.layout.words());
    for (after, (node, edge, length)) in states.zip(&moves.taken) {
        if *node != at || !edges.contains(edge) {
            continue;
        }
        let kept = &system.nodes[at];
        let writes = writes(system, kept, &kept.edges[*edge]);
        let step = Step { edge: *edge, length: *length, writes, after: after.to_vec() };
        if !steps.contains(&step) {
            steps.push(step);
        }
    }
    steps
}

/// Those of the states at a place from which something is done, where that is not all of them: an end ends the job
/// for all who work side by side.
fn going(
    system: &System<'_, '_>,
    room: &mut Room,
    place: usize,
    states: &Set,
) -> Result<Option<Set>, TooLarge> {
    let Kind::Together { lanes, .. } = &system.nodes[place].kind else { return Ok(None) };
    let mut going = states.clone();
    for (lane, _) in lanes {
        for end in system.in_lane(*lane, |kind| matches!(kind, Kind::End)) {
            let mut state = vec![0; system.layout.words()];
            lane.put(&mut state, end);
            going = room.unlike(&going, &[*lane], &state)?;
        }
    }
    Ok(Some(going))
}

fn looking(system: &System<'_, '_>, watch: &Watch, room: &Room) -> Vec<Looking> {
    let mut looking = Vec::new();
    for (at, looks) in &watch.at {
        let (Some(place), kept) = (system.place(*at), &system.nodes[*at]) else { continue };
        for look in looks {
            let mut look = look.clone();
            if kept.lane.is_some() {
                look.only.push((kept.stands, vec![number(*at)]));
                look.slots.push(kept.stands);
            }
            looking.push(Looking { place, at: *at, look, not_met: room.all() });
        }
    }
    looking
}

fn add(
    room: &mut Room,
    open: &mut Open,
    far: u32,
    place: usize,
    set: &Set,
) -> Result<(), TooLarge> {
    let there = open.entry(far).or_default();
    let none = room.none();
    let all = room.either(there.get(&place).unwrap_or(&none), set)?;
    there.insert(place, all);
    Ok(())
}

/// Where the job as a whole stands in a state; none where it has ended unseen.
pub(super) fn stands(system: &System<'_, '_>, state: &[u64]) -> Option<usize> {
    usize::try_from(system.stands.get(state).checked_sub(1)?).ok()
}
