//! Where a job stands in the flow: the one rule of what may come next, shared by proof and job.

use crate::{Effect, NodeId, NodeKind, StepGraph, Way};

/// A place in the flow: the node, the open blocks around it, the rounds of each repeat.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Marking {
    /// The node that is about to happen.
    pub at: NodeId,
    /// Freed blocks and blocks of people side by side around it, outermost first.
    pub open: Vec<Open>,
    /// Rounds taken, by repeat.
    pub rounds: Vec<u32>,
}

/// A block that has been entered.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Open {
    /// Its `AnyOrder` or `Together` node.
    pub block: NodeId,
    /// Which children or lanes are done.
    pub done: Vec<bool>,
    /// The child or lane under way.
    pub current: Option<u16>,
    /// Where each lane stands while it is not under way; empty for a freed block.
    pub lanes: Vec<Lane>,
}

/// Where one person stands in a block of people side by side.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Lane {
    /// The node that is about to happen in it.
    pub at: NodeId,
    /// Freed blocks around it inside the lane.
    pub open: Vec<Open>,
}

impl Marking {
    /// At the start of a job.
    pub fn start(graph: &StepGraph) -> Self {
        let mut marking =
            Self { at: graph.start, open: Vec::new(), rounds: vec![0; graph.repeats.len()] };
        marking.arrive(graph);
        marking
    }

    /// The ways that are open here. A verdict or a condition picks among several; among `Child`
    /// ways the people do. Empty at an end. Whether a lane waits at an `Await` is not known here:
    /// see [`Marking::next_in_lane`].
    pub fn ways(&self, graph: &StepGraph) -> Vec<Way> {
        let ways = graph.ways(self.at).into_iter().map(|(way, ..)| way);
        match &graph.node(self.at).kind {
            NodeKind::AnyOrder { .. } | NodeKind::Together { .. } => {
                let done = self.open.last().map(|open| open.done.as_slice()).unwrap_or_default();
                let left = |way: &Way| matches!(way, Way::Child(child) if done.get(usize::from(*child)) == Some(&false));
                let all_done = done.iter().all(|done| *done);
                ways.filter(|way| if all_done { *way == Way::Next } else { left(way) }).collect()
            }
            NodeKind::Repeat(id) => {
                let rounds = self.rounds.get(usize::from(id.0)).copied().unwrap_or(0);
                let times = graph.repeats.get(usize::from(id.0)).map_or(0, |repeat| repeat.times);
                let wanted = if rounds < times { Way::Again } else { Way::Failing };
                ways.filter(|way| *way == wanted).collect()
            }
            NodeKind::Act(_)
            | NodeKind::Pass
            | NodeKind::Branch(_)
            | NodeKind::ChildDone { .. }
            | NodeKind::LaneDone { .. }
            | NodeKind::Await(_)
            | NodeKind::Enter { .. }
            | NodeKind::Leave { .. }
            | NodeKind::End(_) => ways.collect(),
        }
    }

    /// The node that is about to happen in a lane of the block that is being chosen in.
    pub fn next_in_lane(&self, lane: u16) -> Option<NodeId> {
        let open = self.open.last().filter(|open| open.block == self.at)?;
        Some(open.lanes.get(usize::from(lane))?.at)
    }

    /// The place after taking a way; none where that way is not there.
    #[must_use]
    pub fn take(&self, graph: &StepGraph, way: Way) -> Option<Self> {
        let (edge, to) = graph.follow(self.at, way)?;
        let mut next = self.clone();
        let mut leaves = false;
        for effect in graph.node(self.at).effects.iter().chain(&edge.effects) {
            if let Effect::Afresh { repeat } = effect
                && let Some(rounds) = next.rounds.get_mut(usize::from(repeat.0))
            {
                *rounds = 0;
            }
            leaves |= matches!(effect, Effect::LeaveBlocks);
        }
        match (&graph.node(self.at).kind, way) {
            (NodeKind::Together { .. }, Way::Child(lane)) => return next.resume(lane),
            (NodeKind::Repeat(id), Way::Again) => {
                if let Some(rounds) = next.rounds.get_mut(usize::from(id.0)) {
                    *rounds += 1;
                }
            }
            (NodeKind::AnyOrder { .. }, Way::Child(child)) => {
                if let Some(open) = next.open.last_mut() {
                    open.current = Some(child);
                }
            }
            (NodeKind::AnyOrder { .. } | NodeKind::Together { .. }, _) => {
                next.open.pop();
            }
            _ => {}
        }
        if leaves {
            next.open.clear();
        }
        next.at = to;
        next.arrive(graph);
        next.park(graph);
        Some(next)
    }

    /// Opens a block on arrival, and closes a freed child at its end.
    fn arrive(&mut self, graph: &StepGraph) {
        match &graph.node(self.at).kind {
            NodeKind::AnyOrder { children } => {
                self.open.push(Open {
                    block: self.at,
                    done: vec![false; *children],
                    current: None,
                    lanes: Vec::new(),
                });
            }
            NodeKind::Together { lanes } => {
                let lanes = (0u16..).take(lanes.len()).map(|lane| first_of(graph, self.at, lane));
                let lanes: Vec<Lane> = lanes.collect();
                let done = lanes.iter().map(|lane| at_its_end(graph, lane.at)).collect();
                self.open.push(Open { block: self.at, done, current: None, lanes });
            }
            NodeKind::ChildDone { order } => {
                self.at = *order;
                if let Some(open) = self.open.last_mut() {
                    if let Some(done) =
                        open.current.and_then(|child| open.done.get_mut(usize::from(child)))
                    {
                        *done = true;
                    }
                    open.current = None;
                }
            }
            NodeKind::Act(_)
            | NodeKind::Pass
            | NodeKind::Branch(_)
            | NodeKind::LaneDone { .. }
            | NodeKind::Await(_)
            | NodeKind::Repeat(_)
            | NodeKind::Enter { .. }
            | NodeKind::Leave { .. }
            | NodeKind::End(_) => {}
        }
    }

    /// Goes on in a lane from where it stands.
    fn resume(mut self, lane: u16) -> Option<Self> {
        let open = self.open.last_mut()?;
        open.current = Some(lane);
        let stands = open.lanes.get_mut(usize::from(lane))?;
        self.at = stands.at;
        let inner = std::mem::take(&mut stands.open);
        self.open.extend(inner);
        Some(self)
    }

    /// Leaves the lane under way where it now stands: after each node anyone may be next. An end ends
    /// the job for all.
    fn park(&mut self, graph: &StepGraph) {
        if matches!(graph.node(self.at).kind, NodeKind::End(_)) {
            return;
        }
        let lane_under_way = |open: &Open| !open.lanes.is_empty() && open.current.is_some();
        let Some(position) = self.open.iter().position(lane_under_way) else { return };
        let inner = self.open.split_off(position + 1);
        let Some(open) = self.open.last_mut() else { return };
        let at = std::mem::replace(&mut self.at, open.block);
        let Some(lane) = open.current.take().map(usize::from) else { return };
        if let (Some(stands), Some(done)) = (open.lanes.get_mut(lane), open.done.get_mut(lane)) {
            *stands = Lane { at, open: inner };
            *done = at_its_end(graph, at);
        }
    }
}

fn first_of(graph: &StepGraph, together: NodeId, lane: u16) -> Lane {
    let at = graph.follow(together, Way::Child(lane)).map_or(together, |(_, to)| to);
    let mut inside = Marking { at, open: Vec::new(), rounds: Vec::new() };
    inside.arrive(graph);
    Lane { at: inside.at, open: inside.open }
}

fn at_its_end(graph: &StepGraph, at: NodeId) -> bool {
    matches!(graph.node(at).kind, NodeKind::LaneDone { .. })
}
