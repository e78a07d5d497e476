//! Where a job stands in the flow: the one rule of what may come next, shared by proof and job.

use crate::{Effect, NodeId, NodeKind, StepGraph, Way};

/// A place in the flow: the node, the open freed blocks around it, the rounds of each repeat.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Marking {
    /// The node that is about to happen.
    pub at: NodeId,
    /// Freed blocks around it, outermost first.
    pub open: Vec<Open>,
    /// Rounds taken, by repeat.
    pub rounds: Vec<u32>,
}

/// A freed block that has been entered.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Open {
    /// Its `AnyOrder` node.
    pub order: NodeId,
    /// Which children are done.
    pub done: Vec<bool>,
    /// The child under way.
    pub current: Option<u16>,
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
    /// ways the person does. Empty at an end.
    pub fn ways(&self, graph: &StepGraph) -> Vec<Way> {
        let ways = graph.ways(self.at).into_iter().map(|(way, ..)| way);
        match &graph.node(self.at).kind {
            NodeKind::AnyOrder { .. } => {
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
            | NodeKind::Enter { .. }
            | NodeKind::Leave { .. }
            | NodeKind::End(_) => ways.collect(),
        }
    }

    /// The place after taking a way; none where that way is not there.
    #[must_use]
    pub fn take(&self, graph: &StepGraph, way: Way) -> Option<Self> {
        let (edge, to) = graph.follow(self.at, way)?;
        let mut next = self.clone();
        for effect in graph.node(self.at).effects.iter().chain(&edge.effects) {
            if let Effect::Afresh { repeat } = effect
                && let Some(rounds) = next.rounds.get_mut(usize::from(repeat.0))
            {
                *rounds = 0;
            }
        }
        match (&graph.node(self.at).kind, way) {
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
            (NodeKind::AnyOrder { .. }, _) => {
                next.open.pop();
            }
            _ => {}
        }
        next.at = to;
        next.arrive(graph);
        Some(next)
    }

    /// Opens a freed block on arrival, and closes a child at its end.
    fn arrive(&mut self, graph: &StepGraph) {
        match &graph.node(self.at).kind {
            NodeKind::AnyOrder { children } => {
                self.open.push(Open {
                    order: self.at,
                    done: vec![false; *children],
                    current: None,
                });
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
            | NodeKind::Repeat(_)
            | NodeKind::Enter { .. }
            | NodeKind::Leave { .. }
            | NodeKind::End(_) => {}
        }
    }
}
