//! By which lines the subtask is done that something stands in.

use crate::duty::Duty;
use crate::walk::Fault;
use crate::words::last_writer;
use locknut_finding::Call;
use locknut_graph::{NodeId, NodeKind, StepGraph};
use std::collections::{BTreeMap, BTreeSet};

/// For each node of a laid-in subtask, where that begins.
pub(crate) struct Calls<'g> {
    pub(crate) graph: &'g StepGraph,
    begins: BTreeMap<NodeId, NodeId>,
}

impl<'g> Calls<'g> {
    pub(crate) fn of(graph: &'g StepGraph) -> Self {
        let mut begins = BTreeMap::new();
        let mut seen = BTreeSet::from([graph.start]);
        let mut next = vec![graph.start];
        while let Some(node) = next.pop() {
            let own = begins.get(&node).copied();
            let behind = match &graph.node(node).kind {
                NodeKind::Enter { .. } => Some(node),
                NodeKind::Leave { .. } => own.and_then(|begins_at| begins.get(&begins_at).copied()),
                NodeKind::Act(_)
                | NodeKind::Pass
                | NodeKind::Branch(_)
                | NodeKind::AnyOrder { .. }
                | NodeKind::ChildDone { .. }
                | NodeKind::Together { .. }
                | NodeKind::LaneDone { .. }
                | NodeKind::Await(_)
                | NodeKind::Repeat(_)
                | NodeKind::End(_) => own,
            };
            for (_, _, to) in graph.ways(node) {
                if seen.insert(to) {
                    behind.map(|behind| begins.insert(to, behind));
                    next.push(to);
                }
            }
        }
        Self { graph, begins }
    }

    /// The lines by which all is done that a node stands in, the innermost to the outermost.
    pub(crate) fn around(&self, node: NodeId) -> BTreeSet<Call> {
        let outward = |begins: &NodeId| self.begins.get(begins).copied();
        let all = std::iter::successors(outward(&node), outward);
        let calls = all.filter_map(|begins| {
            let here = self.graph.node(begins);
            let NodeKind::Enter { subtask, .. } = &here.kind else { return None };
            Some(Call { subtask: subtask.clone(), span: here.span })
        });
        calls.collect()
    }

    /// Two nodes as the procedure or subtask sees them in which both stand: what a line of it does there is that line.
    pub(crate) fn side_by_side(&self, one: NodeId, other: NodeId) -> (NodeId, NodeId) {
        let outward =
            |node: NodeId| std::iter::successors(Some(node), |node| self.begins.get(node).copied());
        let level = |node: NodeId| self.begins.get(&node);
        let both = outward(one).find_map(|one| {
            let other = outward(other).find(|other| level(*other) == level(one))?;
            Some((one, other))
        });
        both.unwrap_or((one, other))
    }

    /// The same of what is at fault: of what is owed at the end, the line that left it so.
    pub(crate) fn of_fault(&self, fault: &Fault<'_>) -> BTreeSet<Call> {
        let at = match &fault.duty {
            Duty::Restore { restore, .. } => {
                last_writer(self.graph, &fault.trail, restore.variable)
            }
            Duty::Assertion { node, .. }
            | Duty::SafeToLeave { node, .. }
            | Duty::AsFound { node, .. }
            | Duty::Leaves { node, .. }
            | Duty::Taken { node, .. }
            | Duty::Stuck { node } => Some(*node),
            Duty::Interlock { .. } => fault.node,
        };
        let alike = fault.alike.iter().map(|(_, node)| *node);
        at.into_iter().chain(alike).flat_map(|node| self.around(node)).collect()
    }
}
