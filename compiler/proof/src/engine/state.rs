//! What a state says.

use super::index::Cell;
use super::layout::Asks;
use super::system::{Kind, System};
use locknut_graph::{Condition, ReadingId, VariableId};
use locknut_quantity::Exact;
use std::collections::BTreeMap;

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
            .filter_map(|(cell, slot)| {
                let Cell::Value(variable) = cell else { return None };
                Some((variable, u8::try_from(slot.get(state)).ok()?))
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
        self.standing_at(state, |at| {
            let kind = &self.nodes[at].kind;
            let waits = matches!(kind, Kind::Await(asks) if asks.hold(state) == Some(false));
            waiting |= waits;
            going |= !waits && !matches!(kind, Kind::LaneDone | Kind::Together { .. });
        });
        waiting && !going
    }
}
