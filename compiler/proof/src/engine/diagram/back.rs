//! The way to what was met, taken back from round to round.

use super::super::explore::Move;
use super::super::layout::Slot;
use super::super::moves::Moves;
use super::rounds::{Drawn, Met, Step, stands};
use locknut_graph::{NodeId, Way};

/// A way as a job goes it, and the state that it leads to.
pub(in super::super) type Gone = (Vec<(NodeId, Way)>, Vec<u64>);

impl Drawn<'_, '_, '_> {
    pub(in super::super) fn count(&self) -> usize {
        self.met.len()
    }

    /// As much of it as is watched; of a move, of the state before it.
    pub(in super::super) fn state(&self, id: usize) -> &[u64] {
        &self.met[id].state
    }

    pub(in super::super) fn far(&self, id: usize) -> u32 {
        self.met[id].far
    }

    pub(in super::super) fn is_start(&self, id: usize) -> bool {
        id < self.starts.len()
    }

    pub(in super::super) fn is_move(&self, id: usize) -> bool {
        self.met[id].step.is_some()
    }

    /// A shortest way to a state that was met, and all of that state.
    pub(in super::super) fn way_to(&self, id: usize) -> Option<Gone> {
        if let Some(start) = self.starts.get(id) {
            return Some((Vec::new(), start.clone()));
        }
        let met = &self.met[id];
        let end = self.whole(met)?;
        Some((self.trail(&end, met.far)?, end))
    }

    /// A shortest way by a move that was met, and all of the state after it.
    pub(in super::super) fn way_by(&self, moved: Move) -> Option<Gone> {
        let met = &self.met[moved.from];
        let (_, step) = met.step.as_ref()?;
        let before = self.whole(met)?;
        let told = step.told(&met.slots);
        let end = self.after(&before, moved.node, step, |end| alike(&told, end, &step.after))?;
        let mut trail = self.trail(&before, met.far)?;
        self.system.tell(moved.node, moved.edge, &mut trail);
        Some((trail, end))
    }

    /// All of a state of which something was met, as it was met first.
    fn whole(&self, met: &Met) -> Option<Vec<u64>> {
        let mut asked = vec![None; self.system.layout.words() * 64];
        ask(&mut asked, &met.slots, &met.state);
        let here = self.rounds.get(&met.far)?.get(&met.place)?;
        let set = if met.step.is_some() { here.going() } else { &here.all };
        self.standing(self.order.matching(set, &asked)?, met.place)
    }

    fn standing(&self, mut state: Vec<u64>, place: usize) -> Option<Vec<u64>> {
        self.system.stands.put(&mut state, u64::try_from(place).ok()? + 1);
        Some(state)
    }

    fn trail(&self, end: &[u64], far: u32) -> Option<Vec<(NodeId, Way)>> {
        let mut gone = Vec::new();
        let (mut at, mut far) = (end.to_vec(), far);
        while far > 0 {
            let (before, node, edge, length) = self.before(&at, far)?;
            gone.push((node, edge));
            at = before;
            far -= length;
        }
        let mut trail = Vec::new();
        for (node, edge) in gone.into_iter().rev() {
            self.system.tell(node, edge, &mut trail);
        }
        Some(trail)
    }

    /// A state one move nearer to the start, and the move: node, edge, length.
    fn before(&self, at: &[u64], far: u32) -> Option<(Vec<u64>, usize, usize, u32)> {
        let place = stands(self.system, at)?;
        for (turn, steps) in self.turns.iter().zip(&self.steps) {
            for (looked_at, step) in
                steps.iter().flat_map(|(state, steps)| steps.iter().map(move |step| (state, step)))
            {
                let there = stands(self.system, &step.after) == Some(place);
                if !there || !alike(&step.told(&turn.reads), at, &step.after) {
                    continue;
                }
                let Some(nearer) = far.checked_sub(step.length()) else { continue };
                let here = self.rounds.get(&nearer).and_then(|round| round.get(&turn.place));
                let Some(here) = here else { continue };
                // As it is now, but for what was written, and as it was where that is known.
                let mut asked = vec![None; self.system.layout.words() * 64];
                ask(&mut asked, &self.system.slots(), at);
                for (bit, _) in step.writes.iter().flat_map(|slot| slot.bits(0)) {
                    asked[bit] = None;
                }
                ask(&mut asked, &turn.reads, looked_at);
                let Some(before) = self.order.matching(here.going(), &asked) else { continue };
                let before = self.standing(before, turn.place)?;
                // It is gone once more with all of it known: what is shown can be done.
                if self.after(&before, turn.at, step, |after| after == at).is_some() {
                    return Some((before, turn.at, step.edge, step.length()));
                }
            }
        }
        None
    }

    /// What comes of a whole state by a step, where it is as wanted.
    fn after(
        &self,
        before: &[u64],
        at: usize,
        step: &Step,
        wanted: impl Fn(&[u64]) -> bool,
    ) -> Option<Vec<u64>> {
        let mut moves = Moves::default();
        moves.of(self.system, before);
        let states = moves.words.chunks_exact(self.system.layout.words()).zip(&moves.taken);
        let mut by_it = states
            .filter(|(_, (node, edge, _))| (*node, *edge) == (at, step.edge))
            .map(|(after, _)| after);
        by_it.find(|after| wanted(after)).map(<[u64]>::to_vec)
    }
}

fn ask(asked: &mut [Option<bool>], slots: &[Slot], state: &[u64]) {
    for (bit, set) in slots.iter().flat_map(|slot| slot.bits(slot.get(state))) {
        asked[bit] = Some(set);
    }
}

fn alike(slots: &[Slot], one: &[u64], other: &[u64]) -> bool {
    slots.iter().all(|slot| slot.get(one) == slot.get(other))
}
