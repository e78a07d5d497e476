//! All states of a system, listed or drawn: who walks them need not know which.

use super::diagram::Drawn;
use super::explore::{Explored, Move, Visit};
use super::index::Index;
use super::system::{Kind, System};
use super::watch::Watch;
use locknut_graph::{NodeId, Way};

/// All states of a system, with a shortest way to each.
pub(crate) enum Walked<'s, 'i, 'g> {
    /// Each by itself.
    Listed(Explored<'s, 'i, 'g>),
    /// As sets: of the states that differ in nothing that is watched, one.
    Drawn(Drawn<'s, 'i, 'g>),
}

impl<'s, 'i, 'g> Walked<'s, 'i, 'g> {
    /// All states, listed or drawn by how many there may be; none where that is too much. Of a move as much is told
    /// to `visit` as is watched, and it may be told twice.
    pub(crate) fn of(
        system: &'s System<'i, 'g>,
        watch: &Watch,
        visit: &mut Visit<'_>,
    ) -> Option<Self> {
        let most = system.index.bounds.most;
        let list = |visit: &mut Visit<'_>| {
            let all = Explored::of(system, most, visit);
            (!all.given_up).then_some(Self::Listed(all))
        };
        if system.index.lists(system) {
            return list(visit).or_else(|| Self::drawn(system, watch, visit));
        }
        Self::drawn(system, watch, visit).or_else(|| list(visit))
    }

    /// Draws all states; none where that is too much. Of each move only what is watched is told to `visit`.
    pub(crate) fn drawn(
        system: &'s System<'i, 'g>,
        watch: &Watch,
        visit: &mut Visit<'_>,
    ) -> Option<Self> {
        Drawn::of(system, watch, visit).map(Self::Drawn)
    }

    pub(crate) fn system(&self) -> &'s System<'i, 'g> {
        match self {
            Self::Listed(all) => all.system,
            Self::Drawn(all) => all.system,
        }
    }

    /// States by what is watched of them.
    pub(crate) fn states(&self) -> impl Iterator<Item = usize> {
        let count = match self {
            Self::Listed(all) => all.count(),
            Self::Drawn(all) => all.count(),
        };
        (0..count).filter(|id| !matches!(self, Self::Drawn(all) if all.is_move(*id)))
    }

    /// As much of a state as is watched.
    pub(crate) fn state(&self, id: usize) -> &[u64] {
        match self {
            Self::Listed(all) => all.state(id),
            Self::Drawn(all) => all.state(id),
        }
    }

    pub(crate) fn far(&self, id: usize) -> u32 {
        match self {
            Self::Listed(all) => all.far(id),
            Self::Drawn(all) => all.far(id),
        }
    }

    pub(crate) fn is_start(&self, id: usize) -> bool {
        match self {
            Self::Listed(all) => all.came(id).is_none(),
            Self::Drawn(all) => all.is_start(id),
        }
    }

    /// A shortest way to a state, and all of that state.
    pub(crate) fn way_to(&self, id: usize) -> (Vec<(NodeId, Way)>, Vec<u64>) {
        match self {
            Self::Listed(all) => (all.trail(id), all.state(id).to_vec()),
            // Without a way it is told all the same.
            Self::Drawn(all) => {
                all.way_to(id).unwrap_or_else(|| (Vec::new(), all.state(id).to_vec()))
            }
        }
    }

    /// A shortest way by a move, and all of the state after it.
    pub(crate) fn way_by(&self, moved: Move) -> (Vec<(NodeId, Way)>, Vec<u64>) {
        match self {
            Self::Listed(all) => (all.trail_by(moved), all.after(moved)),
            Self::Drawn(all) => {
                all.way_by(moved).unwrap_or_else(|| (Vec::new(), all.state(moved.from).to_vec()))
            }
        }
    }
}

impl Index<'_> {
    /// Whether the states of a system are to be listed, as far as can be told ahead.
    pub(crate) fn lists(&self, system: &System<'_, '_>) -> bool {
        system.block_states() <= self.bounds.listed
    }
}

impl System<'_, '_> {
    /// How many states the largest of its blocks may have by itself, as far as numbers go.
    pub(crate) fn block_states(&self) -> usize {
        let of = |kind: &Kind| match kind {
            Kind::Order { classes, .. } => {
                let sizes = classes.iter().map(|class| class.members.len() + 1);
                sizes.fold(1, usize::saturating_mul)
            }
            Kind::Together { lanes, .. } => {
                let sizes = lanes.iter().map(|(stands, _)| self.in_lane(*stands, |_| true).len());
                sizes.fold(1, usize::saturating_mul)
            }
            Kind::Plain
            | Kind::Branch(_)
            | Kind::Await(_)
            | Kind::Repeat(..)
            | Kind::ChildDone { .. }
            | Kind::LaneDone
            | Kind::End => 1,
        };
        self.nodes.iter().map(|kept| of(&kept.kind)).max().unwrap_or(1)
    }
}
