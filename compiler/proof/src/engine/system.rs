//! A graph as one slice sees it: the nodes that matter, led straight to one another.
//!
//! A node that changes nothing watched, judges nothing and decides nothing is passed over: whatever leads
//! to it leads to what comes after it. Freed children that look alike are counted instead of told apart;
//! those in which nothing is seen, and people of whom nothing is seen, are left out. All of this is exact,
//! because what is left out can neither be noticed by what is kept nor keep it back.

use super::bits::{Bits, Mask, Positions};
use super::build::Building;
use super::index::Index;
use super::layout::{Asks, Layout, Slot};
use super::slice::Slice;
use locknut_graph::{Condition, Way};

/// How much is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Detail {
    /// What the verdict needs.
    Verdict,
    /// Every node of the job, and of those blocks in which something is seen: for a path that can be gone.
    Path,
}

/// A change of a state.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Op {
    Put(Slot, u64),
    /// Another round is taken.
    Round(Slot),
    /// Time passes, up to the longest that is asked for.
    Wait(Slot, u64, u64),
    /// What has been waited by now, and one more.
    Mark {
        time: Slot,
        moment: Slot,
    },
    /// A floor, not a sum.
    Since {
        time: Slot,
        moment: Slot,
        ticks: u64,
        most: u64,
    },
    /// One of these pieces, whichever.
    Pick(Slot, Mask),
    /// A value as it is found, and one more.
    Find {
        value: Slot,
        found: Slot,
    },
}

/// A way between kept nodes.
#[derive(Clone, Debug)]
pub(crate) struct Edge {
    pub(crate) way: Way,
    pub(crate) ops: Vec<Op>,
    /// The kept node it leads to; none where the job ends unseen.
    pub(crate) to: Option<usize>,
    /// Nodes done by taking it.
    pub(crate) length: u32,
    /// Every block around is left as it stands.
    pub(crate) leaves: bool,
}

/// A node that is kept.
#[derive(Clone, Debug)]
pub(crate) struct Kept {
    pub(crate) node: usize,
    pub(crate) kind: Kind,
    pub(crate) edges: Vec<Edge>,
    /// Where the one who is at it stands.
    pub(crate) stands: Slot,
    /// The block and lane it is in, where people work side by side.
    pub(crate) lane: Option<(usize, u16)>,
}

impl Kept {
    /// Ways to what comes after it, those to freed children left out.
    pub(crate) fn onward(&self) -> &[Edge] {
        match (&self.kind, self.edges.split_last()) {
            (Kind::Order { .. }, Some((last, _))) if last.way == Way::Next => {
                std::slice::from_ref(last)
            }
            (Kind::Order { .. }, _) => &[],
            _ => &self.edges,
        }
    }
}

#[derive(Clone, Debug)]
pub(crate) enum Kind {
    /// Any way may be taken.
    Plain,
    /// The first way where it holds, else the second.
    Branch(Asks),
    /// Blocks until it holds.
    Await(Asks),
    /// Rounds taken and allowed; ways: again, failing.
    Repeat(Slot, u64),
    /// Freed children by class, each with the ways to its members; the last way leads on. `stuck`: a
    /// child that is not told apart never comes to its end.
    Order {
        classes: Vec<Class>,
        stuck: bool,
    },
    /// The end of a child of this class.
    ChildDone {
        order: usize,
        count: Option<Slot>,
    },
    /// People side by side: where each stands, and where each begins; the only way leads on.
    Together {
        lanes: Vec<(Slot, Option<usize>)>,
        stuck: bool,
    },
    LaneDone,
    End,
}

/// Freed children that look alike.
#[derive(Clone, Debug)]
pub(crate) struct Class {
    pub(crate) done: Slot,
    /// Ways to its members, in written order.
    pub(crate) members: Vec<usize>,
}

/// A bit of a state for whoever prints hazards: it is set when the condition comes true, and cleared
/// by passing a guarded node.
pub(crate) struct Flag {
    pub(crate) slot: Slot,
    pub(crate) asks: Asks,
    pub(crate) guarded: Bits,
}

/// What is to be explored.
pub(crate) struct System<'i, 'g> {
    pub(crate) index: &'i Index<'g>,
    pub(crate) layout: Layout,
    pub(crate) nodes: Vec<Kept>,
    /// The position of a node among the kept ones.
    pub(crate) kept: Positions,
    pub(crate) first: Option<usize>,
    pub(crate) flag: Option<Flag>,
    /// Where the job as a whole stands.
    pub(crate) stands: Slot,
    /// What blocks keep: children done, and where people stand in lanes.
    pub(super) of_blocks: Vec<Slot>,
    /// Freed nodes that stand for each other: each node's representative.
    peers: Vec<usize>,
}

/// What is judged at a node, told: nodes of which the same is told are judged alike.
pub(crate) type Judges<'a> = dyn Fn(usize) -> String + 'a;

impl<'i, 'g> System<'i, 'g> {
    /// Builds what is to be explored. `seen` are the nodes that the slice sees, its places among them.
    pub(crate) fn build(
        index: &'i Index<'g>,
        slice: &Slice,
        seen: &Bits,
        judges: &Judges<'_>,
        detail: Detail,
        flagged: Option<(&Condition, Bits)>,
    ) -> Self {
        let mut layout = Layout::of(index, slice);
        let flag = flagged.map(|(condition, guarded)| Flag {
            slot: layout.room(1),
            asks: Asks::of(index, &layout, condition),
            guarded,
        });
        let mut system = Self {
            index,
            layout,
            nodes: Vec::new(),
            kept: Positions::below(index.outs.len()),
            first: None,
            flag,
            stands: Slot::NONE,
            of_blocks: Vec::new(),
            peers: Vec::new(),
        };
        Building::new(index, slice, seen, judges, detail).fill(&mut system);
        system
    }

    /// The node that stands for a node and all those that are alike.
    pub(crate) fn peer(&self, node: usize) -> usize {
        let mut at = node;
        while let Some(next) = self.peers.get(at).copied().filter(|next| *next != at) {
            at = next;
        }
        at
    }

    /// Says that two nodes stand for each other.
    pub(super) fn unite(&mut self, one: usize, other: usize) {
        if self.peers.is_empty() {
            self.peers = (0..self.index.outs.len()).collect();
        }
        let (one, other) = (self.peer(one), self.peer(other));
        let (least, most) = (one.min(other), one.max(other));
        self.peers[most] = least;
    }
}
