//! All states of a system, the nearest first, so that the first way found to a fault is a shortest one.

use super::known::Known;
use super::moves::{Moves, starts};
use super::system::{Kind, System};
use locknut_graph::{NodeId, Way};
use std::cmp::Reverse;
use std::collections::{BinaryHeap, VecDeque};

/// The most states that one group of properties may cost; above it a finding says so.
pub(crate) const MOST_STATES: usize = 1 << 18;

/// A block that may have more states than this by itself is drawn before it is listed.
pub(crate) const MOST_LISTED: usize = 1 << 16;

/// For each way in which freed steps may be done room is made for so many states.
const ROOM_EACH: usize = 16;

/// The most states that room is made for ahead.
const MOST_ROOM: usize = 1 << 12;

/// All states of a system, with the way by which each is nearest.
pub(crate) struct Explored<'s, 'i, 'g> {
    pub(crate) system: &'s System<'i, 'g>,
    words: Vec<u64>,
    came: Vec<Option<Move>>,
    far: Vec<u32>,
    /// Whether the exploration was given up at the most states that were allowed.
    pub(crate) given_up: bool,
}

/// A way taken from a state.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Move {
    pub(crate) from: usize,
    /// The kept node that was done, and the way by which.
    pub(crate) node: usize,
    pub(super) edge: usize,
}

/// What is told of each move, those to states that are known already among them.
pub(crate) type Visit<'v> = dyn FnMut(&[u64], Move, &[u64], u32) + 'v;

/// In how many ways freed steps that are told apart may be done, where they are most.
fn orders(system: &System<'_, '_>) -> usize {
    let of = |kind: &Kind| match kind {
        Kind::Order { classes, .. } if classes.len() > 1 => {
            let sizes = classes.iter().map(|class| class.members.len() + 1);
            sizes.fold(1, usize::saturating_mul)
        }
        Kind::Plain
        | Kind::Branch(_)
        | Kind::Await(_)
        | Kind::Repeat(..)
        | Kind::Order { .. }
        | Kind::ChildDone { .. }
        | Kind::Together { .. }
        | Kind::LaneDone
        | Kind::End => 0,
    };
    system.nodes.iter().map(|kept| of(&kept.kind)).max().unwrap_or(0)
}

impl<'s, 'i, 'g> Explored<'s, 'i, 'g> {
    /// Explores a system, up to so many states; `visit` is told of every move, with the length of the way to its end.
    pub(crate) fn of(system: &'s System<'i, 'g>, most: usize, visit: &mut Visit<'_>) -> Self {
        Self::until(system, most, visit, &mut |_| false)
    }

    /// The same as long as no state is come to at which it is enough.
    pub(crate) fn until(
        system: &'s System<'i, 'g>,
        most: usize,
        visit: &mut Visit<'_>,
        enough: &mut dyn FnMut(&[u64]) -> bool,
    ) -> Self {
        let wide = system.layout.words();
        // Along a line of work there are about as many states as nodes; two people side by side may each stand anywhere.
        let count = system.nodes.len();
        let side_by_side = system.nodes.iter().any(|node| node.lane.is_some());
        let room = if side_by_side {
            (count * count / 4).min(MOST_ROOM)
        } else {
            (2 * count).max(orders(system).saturating_mul(ROOM_EACH).min(MOST_ROOM))
        };
        let mut explored = Self {
            system,
            words: Vec::with_capacity(room * wide),
            came: Vec::with_capacity(room),
            far: Vec::with_capacity(room),
            given_up: false,
        };
        let mut known = Known::new(wide, room);
        // States by how far they are; all moves being of length one, they come in this very order.
        let mut open: BinaryHeap<Reverse<(u32, usize)>> = BinaryHeap::new();
        let mut even = VecDeque::new();
        for start in starts(system) {
            if let (id, true) = known.id(&mut explored.words, &start) {
                explored.came.push(None);
                explored.far.push(0);
                even.push_back(id);
            }
        }
        let uneven = system.nodes.iter().flat_map(|node| &node.edges).any(|edge| edge.length != 1);
        if uneven {
            open.extend(even.drain(..).map(|id| Reverse((0, id))));
        }
        let mut settled = vec![false; explored.came.len()];
        let mut moves = Moves::default();
        let mut state = vec![0; wide];
        loop {
            let id = if uneven {
                let Some(Reverse((far, id))) = open.pop() else { break };
                if settled[id] || far > explored.far[id] {
                    continue;
                }
                id
            } else {
                let Some(id) = even.pop_front() else { break };
                id
            };
            settled[id] = true;
            state.copy_from_slice(&explored.words[id * wide..(id + 1) * wide]);
            if enough(&state) {
                break;
            }
            moves.of(system, &state);
            for (at, (node, edge, length)) in moves.taken.iter().enumerate() {
                let after = &moves.words[at * wide..(at + 1) * wide];
                let moved = Move { from: id, node: *node, edge: *edge };
                let far = explored.far[id] + length;
                visit(&state, moved, after, far);
                let (to, new) = known.id(&mut explored.words, after);
                if new {
                    explored.came.push(Some(moved));
                    explored.far.push(far);
                    settled.push(false);
                } else if far < explored.far[to] {
                    explored.came[to] = Some(moved);
                    explored.far[to] = far;
                } else {
                    continue;
                }
                if uneven {
                    open.push(Reverse((far, to)));
                } else {
                    even.push_back(to);
                }
            }
            if explored.came.len() > most {
                explored.given_up = true;
                break;
            }
        }
        explored
    }

    pub(crate) fn count(&self) -> usize {
        self.came.len()
    }

    pub(crate) fn state(&self, id: usize) -> &[u64] {
        let wide = self.system.layout.words();
        &self.words[id * wide..(id + 1) * wide]
    }

    pub(crate) fn far(&self, id: usize) -> u32 {
        self.far[id]
    }

    pub(crate) fn came(&self, id: usize) -> Option<Move> {
        self.came[id]
    }

    /// The way to a state: nodes with the way taken out of them, from the start.
    pub(crate) fn trail(&self, to: usize) -> Vec<(NodeId, Way)> {
        let mut moves = Vec::new();
        let mut at = to;
        while let Some(came) = self.came[at] {
            moves.push(came);
            at = came.from;
        }
        let mut trail = Vec::new();
        for moved in moves.into_iter().rev() {
            self.system.tell(moved.node, moved.edge, &mut trail);
        }
        trail
    }

    /// The state after a move. Where a value was picked on the way, one of those that may come.
    pub(crate) fn after(&self, moved: Move) -> Vec<u64> {
        let mut moves = Moves::default();
        moves.of(self.system, self.state(moved.from));
        let wide = self.system.layout.words();
        let at = moves
            .taken
            .iter()
            .position(|(node, edge, _)| (*node, *edge) == (moved.node, moved.edge));
        at.map_or_else(
            || self.state(moved.from).to_vec(),
            |at| moves.words[at * wide..(at + 1) * wide].to_vec(),
        )
    }

    /// The way to a state and one move further.
    pub(crate) fn trail_by(&self, moved: Move) -> Vec<(NodeId, Way)> {
        let mut trail = self.trail(moved.from);
        self.system.tell(moved.node, moved.edge, &mut trail);
        trail
    }
}
