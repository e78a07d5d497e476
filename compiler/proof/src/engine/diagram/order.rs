//! The order in which a diagram asks: what belongs together stands together, or a set becomes far larger than it must be.
//!
//! What the slice watches comes first. How much of a class of freed children is done stands right behind that of the things
//! they change which the fewest other classes change: whether a flap is open goes by whether its own step is done.

use super::super::layout::Slot;
use super::super::system::{Edge, Kind, System};
use super::turns::written;
use std::collections::BTreeSet;

/// The variable of each bit of a state, and the other way round.
#[derive(Clone)]
pub(super) struct Order {
    variable: Vec<usize>,
    bit: Vec<usize>,
}

impl Order {
    pub(super) fn of(system: &System<'_, '_>) -> Self {
        let bits = system.layout.words() * 64;
        let mut bit: Vec<usize> = Vec::with_capacity(bits);
        let places = places(system);
        for slot in &places {
            bit.extend(slot.bits(0).map(|(bit, _)| bit));
        }
        // What holds nothing, or is told apart without a diagram, is never asked for.
        let told: BTreeSet<usize> = bit.iter().copied().collect();
        bit.extend((0..bits).filter(|bit| !told.contains(bit)));
        let mut variable = vec![0; bits];
        for (at, bit) in bit.iter().enumerate() {
            variable[*bit] = at;
        }
        Self { variable, bit }
    }

    pub(super) fn variable(&self, bit: usize) -> usize {
        self.variable[bit]
    }

    pub(super) fn bit(&self, variable: usize) -> Option<usize> {
        self.bit.get(variable).copied()
    }

    pub(super) fn bits(&self) -> usize {
        self.bit.len()
    }
}

/// All that a state holds, in order.
fn places(system: &System<'_, '_>) -> Vec<Slot> {
    let classes = classes(system);
    let counts: Vec<Slot> = classes.iter().map(|(done, _)| *done).collect();
    let shared = |slot: &Slot| classes.iter().filter(|(_, changed)| changed.contains(slot)).count();
    let all = system.slots();
    let mut behind: Vec<(Slot, Option<Slot>)> = Vec::with_capacity(classes.len());
    for (done, changed) in &classes {
        let changed = changed.iter().filter(|slot| !counts.contains(slot) && all.contains(slot));
        behind.push((*done, changed.min_by_key(|slot| shared(slot)).copied()));
    }
    let mut places = Vec::with_capacity(all.len());
    let behind_of = |of: Option<Slot>| {
        behind.iter().filter(move |(_, slot)| *slot == of).map(|(done, _)| *done)
    };
    for slot in all.iter().filter(|slot| !counts.contains(slot)) {
        places.push(*slot);
        places.extend(behind_of(Some(*slot)));
    }
    places.extend(behind_of(None));
    places
}

/// Each class of freed children: where it is counted, and what its children change.
fn classes(system: &System<'_, '_>) -> Vec<(Slot, Vec<Slot>)> {
    let mut all = Vec::new();
    for (order, kept) in system.nodes.iter().enumerate() {
        let Kind::Order { classes, .. } = &kept.kind else { continue };
        for class in classes {
            let edges = class.members.iter().filter_map(|member| kept.edges.get(*member));
            all.push((class.done, changed(system, order, edges.collect())));
        }
    }
    all
}

/// What is changed from some edges on to the end of a child.
fn changed<'s>(system: &'s System<'_, '_>, order: usize, mut open: Vec<&'s Edge>) -> Vec<Slot> {
    let mut changed = Vec::new();
    let mut come_to = BTreeSet::from([order]);
    while let Some(edge) = open.pop() {
        changed.extend(edge.ops.iter().map(|op| written(*op)));
        if let Some(to) = edge.to.filter(|to| !edge.leaves && come_to.insert(*to)) {
            open.extend(&system.nodes[to].edges);
        }
    }
    changed
}
