//! How many ways lead to *done*, in how many orders, and how long they are.

use crate::engine::Index;
use crate::facts::Ways;
use hashbrown::HashMap;
use locknut_graph::{Effect, End, NodeKind, Way};
use num_bigint::BigUint;
use num_traits::{One, Zero};

/// More places than this, each with the rounds taken so far, are not counted.
const MOST_PLACES: usize = 100_000;

/// A node with the rounds of each repeat around it.
type Place = (usize, Vec<u8>);

/// The ways from a place to the end of its unit; for the job that is *done*.
#[derive(Clone)]
struct Onward {
    ways: BigUint,
    orders: BigUint,
    acts: Option<(usize, usize)>,
}

/// Counts the ways through a procedure as it is written: what a reading rules out later is not taken off.
pub(crate) fn ways(index: &Index<'_>) -> Option<Ways> {
    let mut counting = Counting { index, known: HashMap::new() };
    let rounds = vec![0; index.graph.repeats.len()];
    if rounds.is_empty() {
        // Without rounds nothing comes again: in this order whatever follows a node is counted before it.
        for node in index.units.iter().rev().flat_map(|unit| &unit.nodes) {
            counting.count(&(*node, Vec::new()))?;
        }
    }
    let all = counting.from(&(index.units.first()?.first, rounds))?;
    let (least, most) = all.acts?;
    Some(Ways { ways: all.ways, orders: all.orders, acts: (least, most) })
}

struct Counting<'a, 'g> {
    index: &'a Index<'g>,
    known: HashMap<Place, Onward>,
}

impl Counting<'_, '_> {
    fn from(&mut self, first: &Place) -> Option<Onward> {
        self.count(first)?;
        self.known.get(first).cloned()
    }

    fn count(&mut self, first: &Place) -> Option<()> {
        let mut open = vec![first.clone()];
        while let Some(place) = open.last().cloned() {
            if self.known.contains_key(&place) {
                open.pop();
                continue;
            }
            let (inside, onward) = self.next(&place);
            let missing = inside.iter().chain(onward.iter().map(|(_, place)| place));
            let missing: Vec<Place> =
                missing.filter(|next| !self.known.contains_key(*next)).cloned().collect();
            if missing.is_empty() {
                let counted = self.counted(&place, &inside, &onward);
                self.known.insert(place, counted);
                open.pop();
            } else if self.known.len() + open.len() > MOST_PLACES {
                return None;
            } else {
                open.extend(missing);
            }
        }
        Some(())
    }

    /// The first places of the children or lanes of a block, and the places that follow.
    fn next(&self, (node, rounds): &Place) -> (Vec<Place>, Vec<(Way, Place)>) {
        let units = self.index.blocks.get(node).into_iter().flatten();
        let firsts = units.filter_map(|unit| self.index.units.get(*unit));
        let inside = firsts.map(|unit| self.place(unit.first, rounds.clone())).collect();
        let outs = self.index.outs.get(*node).into_iter().flatten();
        let onward = outs.filter(|out| !matches!(out.way, Way::Child(_))).filter_map(|out| {
            let mut rounds = rounds.clone();
            for effect in self.index.effects(*node).iter().chain(out.effects) {
                if let Effect::Afresh { repeat } = effect
                    && let Some(taken) = rounds.get_mut(usize::from(repeat.0))
                {
                    *taken = 0;
                }
            }
            if let NodeKind::Repeat(id) = self.index.kind(*node) {
                let times = self.index.graph.repeats.get(usize::from(id.0))?.times;
                let taken = rounds.get_mut(usize::from(id.0))?;
                if (u32::from(*taken) < times) != (out.way == Way::Again) {
                    return None;
                }
                *taken += u8::from(out.way == Way::Again);
            }
            Some((out.way, self.place(out.to, rounds)))
        });
        (inside, onward.collect())
    }

    /// A place; the rounds of a repeat matter only where it can still be met.
    fn place(&self, node: usize, mut rounds: Vec<u8>) -> Place {
        for (taken, body) in rounds.iter_mut().zip(&self.index.bodies) {
            if !body.has(node) {
                *taken = 0;
            }
        }
        (node, rounds)
    }

    fn counted(&self, (node, _): &Place, inside: &[Place], onward: &[(Way, Place)]) -> Onward {
        let kind = self.index.kind(*node);
        let ends = matches!(kind, NodeKind::End(End::Done)) || kind.back_to().is_some();
        let mut all = Onward {
            ways: if ends { BigUint::one() } else { BigUint::zero() },
            orders: BigUint::one(),
            acts: ends.then_some((0, 0)),
        };
        for onward in onward.iter().filter_map(|(_, place)| self.known.get(place)) {
            all.ways += &onward.ways;
            if onward.orders > all.orders {
                all.orders.clone_from(&onward.orders);
            }
            all.acts = match (all.acts, onward.acts) {
                (Some((least, most)), Some((also, longest))) => {
                    Some((least.min(also), most.max(longest)))
                }
                (one, other) => one.or(other),
            };
        }
        let inside: Vec<&Onward> =
            inside.iter().filter_map(|place| self.known.get(place)).collect();
        for child in &inside {
            all.ways *= &child.ways;
            all.orders *= &child.orders;
            all.acts = match (all.acts, child.acts) {
                (Some((least, most)), Some((also, longest))) => {
                    Some((least + also, most + longest))
                }
                _ => None,
            };
        }
        all.orders *= orders(kind, &inside);
        if matches!(kind, NodeKind::Act(_)) {
            all.acts = all.acts.map(|(least, most)| (least + 1, most + 1));
        }
        all
    }
}

/// The orders of a block: of its children, or of the acts of its lanes.
fn orders(kind: &NodeKind, inside: &[&Onward]) -> BigUint {
    match kind {
        NodeKind::AnyOrder { .. } => factorial(inside.len()),
        NodeKind::Together { .. } => {
            let acts = inside.iter().map(|lane| lane.acts.map_or(0, |(_, most)| most));
            let parts: BigUint = acts.clone().map(factorial).product();
            factorial(acts.sum()) / parts
        }
        NodeKind::Act(_)
        | NodeKind::Pass
        | NodeKind::Branch(_)
        | NodeKind::ChildDone { .. }
        | NodeKind::LaneDone { .. }
        | NodeKind::Await(_)
        | NodeKind::Repeat(_)
        | NodeKind::Enter { .. }
        | NodeKind::Leave { .. }
        | NodeKind::End(_) => BigUint::one(),
    }
}

fn factorial(of: usize) -> BigUint {
    (1..=of).map(BigUint::from).product()
}
