//! What a group of properties can depend on.

use super::bits::Bits;
use super::index::{Cell, Index};
use locknut_graph::{Condition, NodeKind, VariableId};
use std::collections::BTreeSet;

/// What is watched; all else is passed over.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Slice(pub(crate) BTreeSet<Cell>);

impl Slice {
    /// Nodes that change what is watched, and the places at which something is judged.
    pub(crate) fn seen(&self, index: &Index<'_>, places: &[usize]) -> Bits {
        let mut seen = Bits::below(index.outs.len());
        for node in self.0.iter().filter_map(|cell| index.touched.get(cell)).flatten().chain(places)
        {
            seen.insert(*node);
        }
        seen
    }

    /// Closes the slice over the branches around its writers and around the places: what they test
    /// decides whether a writer or a place is reached. Gives what is then seen.
    pub(crate) fn close(&mut self, index: &Index<'_>, places: &[usize]) -> Bits {
        let mut seen = self.seen(index, places);
        let mut watched = vec![false; index.decides.len()];
        // Where the job may end ahead of what is seen: whether somebody comes there matters, too.
        let mut forks = Bits::below(index.outs.len());
        loop {
            let mut grown = false;
            for (node, ways) in &index.passes_by {
                let mut seeing = ways.iter().filter(|way| way.meets(&seen));
                let first = seeing.next();
                let apart = |first| seeing.any(|way| way.differ(first).meets(&seen));
                if !forks.has(*node) && first.is_some_and(apart) {
                    grown |= forks.insert(*node);
                }
            }
            for ((node, about), watched) in index.decides.iter().zip(&mut watched) {
                let learns = index.learns.has(*node) && seen.has(*node);
                if *watched || !(learns || about.meets(&seen) || about.meets(&forks)) {
                    continue;
                }
                *watched = true;
                if let NodeKind::Await(_) = index.kind(*node) {
                    grown |= seen.insert(*node);
                }
                if let Some(condition) = index.kind(*node).asks() {
                    grown |= self.watch(index, condition, &mut seen);
                }
            }
            if !grown {
                return seen;
            }
        }
    }

    /// Watches what a condition depends on, too; whether that is more.
    pub(crate) fn watch(
        &mut self,
        index: &Index<'_>,
        condition: &Condition,
        seen: &mut Bits,
    ) -> bool {
        let mut grown = false;
        for cell in index.cells(condition) {
            if self.0.insert(cell) {
                grown = true;
                for node in index.touched.get(&cell).into_iter().flatten() {
                    seen.insert(*node);
                }
            }
        }
        grown
    }

    /// The variables whose value is watched.
    pub(crate) fn variables(&self) -> BTreeSet<VariableId> {
        let values = self.0.iter();
        values
            .filter_map(|cell| if let Cell::Value(id) = cell { Some(*id) } else { None })
            .collect()
    }

    /// Whether everything that a condition asks is watched.
    pub(crate) fn decides(&self, index: &Index<'_>, condition: &Condition) -> bool {
        let all_known = condition.tests().into_iter().all(|test| match test {
            locknut_graph::Test::Within { value, .. } => index.pieces.position(value).is_some(),
            locknut_graph::Test::Is { .. }
            | locknut_graph::Test::Proved { .. }
            | locknut_graph::Test::Held { .. } => true,
        });
        all_known && index.cells(condition).is_subset(&self.0)
    }
}
