//! What a group of properties can depend on.

use locknut_graph::{
    Condition, Effect, NodeId, NodeKind, ReadingId, StepGraph, Test, VariableId, Way,
};
use locknut_quantity::Exact;
use std::collections::{BTreeMap, BTreeSet};

/// The variables, bits and times that are watched.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Slice {
    /// Variables whose value is watched.
    pub(crate) values: BTreeSet<VariableId>,
    /// Variables whose proved bit is watched.
    pub(crate) proved: BTreeSet<VariableId>,
    /// Variables whose waited time is watched, with the longest time that anyone asks for.
    pub(crate) held: BTreeMap<VariableId, Exact>,
    /// Readings: whether they are taken.
    pub(crate) readings: BTreeSet<ReadingId>,
    /// Values owed back as found: call and variable.
    pub(crate) found: BTreeSet<(u16, VariableId)>,
}

impl Slice {
    /// What a condition depends on.
    pub(crate) fn of(condition: &Condition) -> Self {
        let mut slice = Self::default();
        slice.watch(condition);
        slice
    }

    /// Watches what a condition depends on, too.
    pub(crate) fn watch(&mut self, condition: &Condition) {
        for test in condition.tests() {
            match test {
                Test::Is { variable, .. } => {
                    self.values.insert(*variable);
                }
                Test::Proved { variable, .. } => {
                    self.values.insert(*variable);
                    self.proved.insert(*variable);
                }
                Test::Held { variable, seconds, .. } => {
                    self.values.insert(*variable);
                    let longest = self.held.entry(*variable).or_insert_with(|| seconds.clone());
                    if seconds > longest {
                        longest.clone_from(seconds);
                    }
                }
                Test::Within { .. } => {}
            }
        }
    }

    /// Closes the slice over the branches around its writers and around the given places: what they
    /// test decides whether a writer or a place is reached.
    pub(crate) fn close(&mut self, graph: &StepGraph, places: &BTreeSet<NodeId>) {
        let arms = BranchArms::of(graph);
        loop {
            let before = (self.values.len(), self.proved.len(), self.held.len());
            for (branch, only) in &arms.only {
                let matters =
                    only.iter().any(|node| places.contains(node) || self.sees_node(graph, *node));
                if let (true, NodeKind::Branch(condition)) = (matters, &graph.node(*branch).kind) {
                    self.watch(condition);
                }
            }
            if before == (self.values.len(), self.proved.len(), self.held.len()) {
                return;
            }
        }
    }

    /// Watches everything that any branch tests.
    pub(crate) fn watch_branches(&mut self, graph: &StepGraph) {
        for node in graph.flow.node_weights() {
            if let NodeKind::Branch(condition) = &node.kind {
                self.watch(condition);
            }
        }
    }

    /// Whether passing a node, or leaving it by any way, changes something that is watched.
    pub(crate) fn sees_node(&self, graph: &StepGraph, node: NodeId) -> bool {
        let here = graph.node(node);
        let call = match &here.kind {
            NodeKind::Enter { call, .. } | NodeKind::Leave { call, .. } => {
                self.found.iter().any(|(owed, _)| owed == call)
            }
            NodeKind::Act(_)
            | NodeKind::Pass
            | NodeKind::Branch(_)
            | NodeKind::AnyOrder { .. }
            | NodeKind::ChildDone { .. }
            | NodeKind::Repeat(_)
            | NodeKind::End(_) => false,
        };
        let edges = graph.ways(node).into_iter().flat_map(|(_, edge, _)| &edge.effects);
        call || here.effects.iter().chain(edges).any(|effect| self.sees(effect))
    }

    /// Whether an effect changes something that is watched.
    pub(crate) fn sees(&self, effect: &Effect) -> bool {
        match effect {
            Effect::Set { variable, .. } => self.values.contains(variable),
            Effect::Prove { variable } => self.proved.contains(variable),
            Effect::Wait { .. } | Effect::WaitSince { .. } | Effect::StepEnds { .. } => {
                !self.held.is_empty()
            }
            Effect::Take { reading } => self.readings.contains(reading),
            Effect::Void { readings, proofs } => {
                readings.iter().any(|reading| self.readings.contains(reading))
                    || proofs.iter().any(|variable| self.proved.contains(variable))
            }
            Effect::Afresh { .. } => false,
        }
    }

    /// Whether a branch can be decided on this slice.
    pub(crate) fn decides(&self, condition: &Condition) -> bool {
        condition.tests().into_iter().all(|test| match test {
            Test::Is { variable, .. } => self.values.contains(variable),
            Test::Proved { variable, .. } => self.proved.contains(variable),
            Test::Held { variable, seconds, .. } => {
                self.held.get(variable).is_some_and(|longest| longest >= seconds)
            }
            Test::Within { .. } => false,
        })
    }
}

/// For each branch, the nodes that only one of its arms reaches.
struct BranchArms {
    only: BTreeMap<NodeId, BTreeSet<NodeId>>,
}

impl BranchArms {
    fn of(graph: &StepGraph) -> Self {
        let branches = graph
            .flow
            .node_indices()
            .filter(|id| matches!(graph.node(*id).kind, NodeKind::Branch(_)));
        let only = branches
            .map(|branch| {
                let reach = |way| {
                    graph
                        .follow(branch, way)
                        .map(|(_, to)| reachable(graph, to, branch))
                        .unwrap_or_default()
                };
                let (first, second) = (reach(Way::Arm(0)), reach(Way::Arm(1)));
                (branch, first.symmetric_difference(&second).copied().collect())
            })
            .collect();
        Self { only }
    }
}

/// Nodes that are reached from one without passing another.
fn reachable(graph: &StepGraph, from: NodeId, not_through: NodeId) -> BTreeSet<NodeId> {
    let mut seen = BTreeSet::new();
    let mut open = vec![from];
    while let Some(node) = open.pop() {
        if node == not_through || !seen.insert(node) {
            continue;
        }
        if let NodeKind::ChildDone { order } = graph.node(node).kind {
            open.push(order);
        }
        open.extend(graph.ways(node).into_iter().map(|(_, _, to)| to));
    }
    seen
}
