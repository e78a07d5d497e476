//! What whoever has states walked looks at, told ahead: so that states that differ in nothing else are told once.

use super::diagram::distinct;
use super::index::Cell;
use super::layout::{Asks, Slot};
use super::system::{Kind, System};
use locknut_graph::{ReadingId, VariableId};
use std::collections::BTreeMap;

/// What is looked at.
#[derive(Debug, Default)]
pub(crate) struct Watch {
    /// In states in which somebody stands at a kept node.
    pub(crate) at: BTreeMap<usize, Vec<Look>>,
    /// Before and after each move; none where moves are not looked at.
    pub(crate) moves: Option<Look>,
}

/// What is looked at in a state.
#[derive(Clone, Debug, Default)]
pub(crate) struct Look {
    pub(crate) slots: Vec<Slot>,
    /// Whether these hold.
    pub(crate) asks: Vec<Asks>,
    /// Nothing is looked for but where these slots hold one of these values.
    pub(crate) only: Vec<(Slot, Vec<u64>)>,
}

impl Watch {
    /// These slots, wherever somebody stands.
    pub(crate) fn everywhere(system: &System<'_, '_>, slots: &[Slot]) -> Self {
        let look = || vec![Look::at(slots.to_vec())];
        Self { at: (0..system.nodes.len()).map(|at| (at, look())).collect(), moves: None }
    }

    /// Whether a condition holds before and after each move, and how these slots stand.
    pub(crate) fn of_moves(asks: &Asks, slots: Vec<Slot>) -> Self {
        let look = Look { slots, asks: vec![asks.clone()], only: Vec::new() };
        Self { at: BTreeMap::new(), moves: Some(look) }
    }
}

impl Look {
    pub(crate) fn at(slots: Vec<Slot>) -> Self {
        Self { slots, ..Self::default() }
    }

    pub(crate) fn asking(asks: &Asks) -> Self {
        Self { asks: vec![asks.clone()], ..Self::default() }
    }

    /// What both look at, wherever either does.
    pub(crate) fn and(mut self, mut other: Self) -> Self {
        self.slots.append(&mut other.slots);
        self.asks.append(&mut other.asks);
        self.only.retain(|one| other.only.contains(one));
        self
    }

    /// The slots that decide what is seen in a state: however all else stands, the same is seen.
    pub(super) fn decided_by(&self, state: &[u64]) -> Vec<Slot> {
        let mut slots = self.slots.clone();
        self.asks.iter().for_each(|asks| asks.decided_by(state, &mut slots));
        distinct(&mut slots);
        slots
    }
}

impl System<'_, '_> {
    /// Where people stand who work side by side.
    pub(crate) fn everyone(&self) -> impl Iterator<Item = Slot> {
        let lanes = self.nodes.iter().filter_map(|kept| match &kept.kind {
            Kind::Together { lanes, .. } => Some(lanes.iter().map(|(stands, _)| *stands)),
            Kind::Plain
            | Kind::Branch(_)
            | Kind::Await(_)
            | Kind::Repeat(..)
            | Kind::Order { .. }
            | Kind::ChildDone { .. }
            | Kind::LaneDone
            | Kind::End => None,
        });
        lanes.flatten()
    }

    /// Whether a call's variable is as it was found goes by these.
    pub(crate) fn looks_changed(&self, call: u16, variable: VariableId) -> Look {
        let cells = [Cell::Found(call, variable), Cell::Value(variable)];
        Look::at(cells.into_iter().filter_map(|cell| self.layout.cell(cell)).collect())
    }

    /// Whether a reading is taken goes by this.
    pub(crate) fn looks_taken(&self, reading: ReadingId) -> Look {
        Look::at(self.layout.cell(Cell::Taken(reading)).into_iter().collect())
    }

    /// Whether people side by side are stuck goes by these: nobody is where something can be done.
    pub(crate) fn looks_stuck(&self, block: usize) -> Look {
        let mut look = Look::default();
        let here = self.kept.of(block).map(|at| &self.nodes[at].kind);
        let Some(Kind::Together { lanes, .. }) = here else { return look };
        for (lane, first) in lanes {
            let may_be = |kind: &Kind| matches!(kind, Kind::Await(_) | Kind::LaneDone);
            let mut stands = self.in_lane(*lane, may_be);
            // A lane that begins nowhere has nobody in it.
            stands.extend(first.is_none().then_some(0));
            look.only.push((*lane, stands));
            look.slots.push(*lane);
        }
        for kept in &self.nodes {
            if let (Kind::Await(asks), Some(_)) = (&kept.kind, kept.lane) {
                asks.slots(&mut look.slots);
            }
        }
        look
    }
}
