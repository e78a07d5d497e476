//! Sets of states as binary decision diagrams, a variable for each bit of a state: the one door to the library.
//!
//! What a set may come to and what all of them may cost is counted in nodes, so that whether it is too much is the
//! same on every machine.

use super::super::layout::Slot;
use super::order::Order;
use biodivine_lib_bdd::{
    Bdd, BddPartialValuation, BddPointer, BddVariable, BddVariableSet, op_function,
};

/// More nodes than are allowed.
pub(super) struct TooLarge;

/// The most nodes of one set.
const MOST_NODES: usize = 1 << 17;

/// The most nodes that all operations of one exploration may go through.
const MOST_WORK: usize = 1 << 26;

/// The most nodes of all sets that are kept for the way back.
const MOST_KEPT: usize = 1 << 22;

/// Where sets are made, and what is left for it.
pub(super) struct Room {
    variables: BddVariableSet,
    order: Order,
    left: usize,
    to_keep: usize,
}

/// A set of states.
#[derive(Clone)]
pub(super) struct Set(Bdd);

impl Room {
    /// Room for states whose bits are asked in this order; none where those are more than can be told apart.
    pub(super) fn of(order: &Order, most: usize) -> Option<Self> {
        let bits = u16::try_from(order.bits()).ok().filter(|bits| *bits < u16::MAX)?;
        let variables = BddVariableSet::new_anonymous(bits);
        Some(Self {
            variables,
            order: order.clone(),
            left: most.min(MOST_WORK),
            to_keep: MOST_KEPT,
        })
    }

    /// What is left of the work.
    pub(super) fn left(&self) -> usize {
        self.left
    }

    pub(super) fn none(&self) -> Set {
        Set(self.variables.mk_false())
    }

    pub(super) fn all(&self) -> Set {
        Set(self.variables.mk_true())
    }

    /// The states that have these bits.
    fn cube(&self, bits: &BddPartialValuation) -> Set {
        Set(self.variables.mk_conjunctive_clause(bits))
    }

    /// One state of a set; what does not matter in it is 0.
    pub(super) fn any(&self, set: &Set) -> Option<Vec<u64>> {
        self.order.any(set)
    }

    fn variables_of(&self, slot: Slot, value: u64) -> impl Iterator<Item = (BddVariable, bool)> {
        let bits = slot.bits(value);
        bits.map(|(bit, set)| (BddVariable::from_index(self.order.variable(bit)), set))
    }

    fn bits(&self, slots: &[Slot], state: &[u64]) -> BddPartialValuation {
        let all = slots.iter().flat_map(|slot| self.variables_of(*slot, slot.get(state)));
        BddPartialValuation::from_values(&all.collect::<Vec<_>>())
    }

    /// Counts a set that is kept.
    pub(super) fn keep(&mut self, set: &Set) -> Result<(), TooLarge> {
        self.to_keep = self.to_keep.checked_sub(set.0.size()).ok_or(TooLarge)?;
        Ok(())
    }

    fn pay(&mut self, nodes: usize) -> Result<(), TooLarge> {
        self.left = self.left.checked_sub(nodes).ok_or(TooLarge)?;
        Ok(())
    }

    fn joined(
        &mut self,
        one: &Set,
        other: &Set,
        how: fn(Option<bool>, Option<bool>) -> Option<bool>,
    ) -> Result<Set, TooLarge> {
        self.pay(one.0.size() + other.0.size())?;
        let set = Bdd::binary_op_with_limit(MOST_NODES, &one.0, &other.0, how).ok_or(TooLarge)?;
        self.pay(set.size())?;
        Ok(Set(set))
    }

    pub(super) fn either(&mut self, one: &Set, other: &Set) -> Result<Set, TooLarge> {
        if one.is_empty() {
            return Ok(other.clone());
        }
        self.joined(one, other, op_function::or)
    }

    pub(super) fn both(&mut self, one: &Set, other: &Set) -> Result<Set, TooLarge> {
        self.joined(one, other, op_function::and)
    }

    pub(super) fn without(&mut self, one: &Set, other: &Set) -> Result<Set, TooLarge> {
        if other.is_empty() || one.is_empty() {
            return Ok(one.clone());
        }
        self.joined(one, other, op_function::and_not)
    }

    /// Those in which some slots hold what they hold in a given state.
    pub(super) fn like(
        &mut self,
        set: &Set,
        slots: &[Slot],
        state: &[u64],
    ) -> Result<Set, TooLarge> {
        let cube = self.cube(&self.bits(slots, state));
        self.both(set, &cube)
    }

    /// All but those in which some slots hold what they hold in a given state.
    pub(super) fn unlike(
        &mut self,
        set: &Set,
        slots: &[Slot],
        state: &[u64],
    ) -> Result<Set, TooLarge> {
        let cube = self.cube(&self.bits(slots, state));
        self.without(set, &cube)
    }

    /// Those in which some slots hold what they hold in a given state, told without these slots.
    pub(super) fn given(
        &mut self,
        set: &Set,
        slots: &[Slot],
        state: &[u64],
    ) -> Result<Set, TooLarge> {
        self.pay(set.0.size())?;
        Ok(Set(set.0.restrict_valuation(&self.bits(slots, state))))
    }

    /// Those in which a slot holds one of some values.
    pub(super) fn among(&mut self, set: &Set, slot: Slot, values: &[u64]) -> Result<Set, TooLarge> {
        let mut any = self.none();
        for value in values {
            let one: Vec<(BddVariable, bool)> = self.variables_of(slot, *value).collect();
            let one = self.cube(&BddPartialValuation::from_values(&one));
            any = self.either(&any, &one)?;
        }
        self.both(set, &any)
    }

    /// What a slot holds is forgotten: it may be anything.
    pub(super) fn forgotten(&mut self, set: &Set, slot: Slot) -> Result<Set, TooLarge> {
        let mut set = set.clone();
        for (variable, _) in self.variables_of(slot, 0).collect::<Vec<_>>() {
            self.pay(2 * set.0.size())?;
            let (same, flipped) = ((&set.0, None), (&set.0, Some(variable)));
            let or = op_function::or;
            let free = Bdd::fused_binary_flip_op_with_limit(MOST_NODES, same, flipped, None, or);
            set = Set(free.ok_or(TooLarge)?);
        }
        Ok(set)
    }
}

impl Set {
    pub(super) fn is_empty(&self) -> bool {
        self.0.is_false()
    }
}

impl Order {
    /// One state of a set; what does not matter in it is 0.
    pub(super) fn any(&self, set: &Set) -> Option<Vec<u64>> {
        self.way_down(set, &[], |node| !node.is_zero())
    }

    /// One in which each bit is as it is asked for, where one is.
    pub(super) fn matching(&self, set: &Set, asked: &[Option<bool>]) -> Option<Vec<u64>> {
        // What a node leads to stands before it.
        let mut leads_there = vec![false; set.0.size()];
        for node in set.0.pointers() {
            let wanted = self.wanted(set, node, asked);
            let low = wanted != Some(true) && leads_there[set.0.low_link_of(node).to_index()];
            let high = wanted != Some(false) && leads_there[set.0.high_link_of(node).to_index()];
            leads_there[node.to_index()] = node.is_one() || low || high;
        }
        self.way_down(set, asked, |node| leads_there[node.to_index()])
    }

    fn wanted(&self, set: &Set, node: BddPointer, asked: &[Option<bool>]) -> Option<bool> {
        let bit = self.bit(set.0.var_of(node).to_index())?;
        asked.get(bit).copied().flatten()
    }

    /// The bits along a way down through nodes that are good, of two that are the one where a bit is not set.
    fn way_down(
        &self,
        set: &Set,
        asked: &[Option<bool>],
        good: impl Fn(BddPointer) -> bool,
    ) -> Option<Vec<u64>> {
        let mut words = vec![0; self.bits() / 64];
        for (bit, _) in asked.iter().enumerate().filter(|(_, set)| **set == Some(true)) {
            words[bit / 64] |= 1 << (bit % 64);
        }
        let mut at = set.0.root_pointer();
        if !good(at) {
            return None;
        }
        while !at.is_terminal() {
            let low = self.wanted(set, at, asked) != Some(true);
            if low && good(set.0.low_link_of(at)) {
                at = set.0.low_link_of(at);
            } else {
                let bit = self.bit(set.0.var_of(at).to_index())?;
                words[bit / 64] |= 1 << (bit % 64);
                at = set.0.high_link_of(at);
            }
        }
        Some(words)
    }
}
