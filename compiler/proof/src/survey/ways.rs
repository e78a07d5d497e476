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

/// The fewest and the most acts.
type Acts = Option<(usize, usize)>;

/// The ways from a place onward.
#[derive(Clone)]
struct Onward {
    /// To the end of its unit; for the job that is *done*.
    ways: BigUint,
    acts: Acts,
    /// Out of every block by `done`, to where the job is.
    left: BigUint,
    left_acts: Acts,
    /// How far it may have come when somebody else is done: nothing chosen yet, or some of what there is to choose.
    parts: BigUint,
    orders: BigUint,
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
    let (least, most) = either(all.acts, all.left_acts)?;
    Some(Ways { ways: all.ways + all.left, orders: all.orders, acts: (least, most) })
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

    /// The first places of the children or lanes of a block, and the places that follow, each with whether `done` leads
    /// there.
    fn next(&self, (node, rounds): &Place) -> (Vec<Place>, Vec<(bool, Place)>) {
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
            Some((out.leaves, self.place(out.to, rounds)))
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

    fn counted(&self, (node, _): &Place, inside: &[Place], onward: &[(bool, Place)]) -> Onward {
        let kind = self.index.kind(*node);
        let ends = matches!(kind, NodeKind::End(End::Done)) || kind.back_to().is_some();
        let one = if ends { BigUint::one() } else { BigUint::zero() };
        let mut all = Onward {
            ways: one.clone(),
            acts: ends.then_some((0, 0)),
            left: BigUint::zero(),
            left_acts: None,
            parts: one,
            orders: BigUint::one(),
        };
        let mut choices = 0;
        for (leaves, place) in onward {
            let Some(next) = self.known.get(place) else { continue };
            choices += usize::from(!next.ways.is_zero() || !next.left.is_zero());
            if *leaves {
                all.left += &next.ways + &next.left;
                all.left_acts = either(all.left_acts, either(next.acts, next.left_acts));
            } else {
                all.ways += &next.ways;
                all.left += &next.left;
                all.acts = either(all.acts, next.acts);
                all.left_acts = either(all.left_acts, next.left_acts);
                all.parts += &next.parts;
            }
            if next.orders > all.orders {
                all.orders.clone_from(&next.orders);
            }
        }
        if choices > 1 {
            all.parts += 1_u8;
        }
        let inside: Vec<&Onward> =
            inside.iter().filter_map(|place| self.known.get(place)).collect();
        if !inside.is_empty() {
            around(&mut all, kind, &inside);
        }
        all.orders *= orders(kind, &inside);
        if matches!(kind, NodeKind::Act(_)) {
            let more = |acts: Acts| acts.map(|(least, most)| (least + 1, most + 1));
            (all.acts, all.left_acts) = (more(all.acts), more(all.left_acts));
        }
        all
    }
}

/// What follows a block, with what is done inside of it ahead of that, or `done` in it in the place of that.
fn around(all: &mut Onward, kind: &NodeKind, inside: &[&Onward]) {
    let whole: BigUint = inside.iter().map(|child| &child.ways).product();
    let parts: BigUint = inside.iter().map(|child| &child.parts).product();
    let acts = inside.iter().try_fold((0, 0), |(least, most), child| {
        child.acts.map(|(also, longest)| (least + also, most + longest))
    });
    let after = |onward: Acts| {
        onward.zip(acts).map(|((least, most), (also, longest))| (least + also, most + longest))
    };
    (all.acts, all.left_acts) = (after(all.acts), after(all.left_acts));
    all.ways *= &whole;
    all.left *= &whole;
    all.parts *= &whole;
    all.parts += if parts > whole { parts - whole } else { BigUint::zero() };
    for (at, done) in inside.iter().enumerate() {
        let others = || inside.iter().enumerate().filter(|(other, _)| *other != at);
        // A freed child is not begun or done as a whole; people side by side stop wherever they are.
        let so_far = others().map(|(_, other)| {
            if !matches!(kind, NodeKind::AnyOrder { .. }) {
                other.parts.clone()
            } else if other.parts > BigUint::one() {
                &other.ways + 1_u8
            } else {
                BigUint::one()
            }
        });
        all.left += &done.left * so_far.product::<BigUint>();
        let most_of = |child: &Onward| either(child.acts, child.left_acts).map_or(0, |acts| acts.1);
        let beside: usize = others().map(|(_, other)| most_of(other)).sum();
        let here = done.left_acts.map(|(least, most)| (least, most + beside));
        all.left_acts = either(all.left_acts, here);
    }
}

/// The fewest and the most of both.
fn either(one: Acts, other: Acts) -> Acts {
    match (one, other) {
        (Some((least, most)), Some((also, longest))) => Some((least.min(also), most.max(longest))),
        (one, other) => one.or(other),
    }
}

/// The orders of a block: of its children, or of the acts of its lanes, with all those that each of them has inside.
fn orders(kind: &NodeKind, inside: &[&Onward]) -> BigUint {
    let within = || inside.iter().map(|part| &part.orders).product::<BigUint>();
    match kind {
        NodeKind::AnyOrder { .. } => factorial(inside.len()) * within(),
        NodeKind::Together { .. } => {
            let acts = inside.iter().map(|lane| lane.acts.map_or(0, |(_, most)| most));
            let parts: BigUint = acts.clone().map(factorial).product();
            factorial(acts.sum()) / parts * within()
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
