//! What must hold where: every property of a graph, each with the slice that it can depend on.

use crate::engine::{Slice, State};
use locknut_graph::{
    ActKind, Assertion, Condition, Effect, End, Expression, Interlock, NodeId, NodeKind, ReadingId,
    Restore, StepGraph, Test, VariableId, Verdict,
};
use std::collections::BTreeSet;

/// One property.
#[derive(Clone, Debug)]
pub(crate) enum Duty<'a> {
    /// Just before an act.
    Assertion { node: NodeId, assertion: &'a Assertion },
    /// After every act, and at the start.
    Interlock { interlock: &'a Interlock },
    /// At *done*.
    Restore { node: NodeId, restore: &'a Restore },
    /// At `stop` and `refer to`.
    SafeToLeave { node: NodeId },
    /// At the end of a subtask: what it does not name is as it was found.
    AsFound { node: NodeId, call: u16, variable: VariableId },
    /// At the end of a subtask: what it leaves.
    Leaves { node: NodeId, restore: &'a Restore },
    /// A reading is used that must have been taken.
    Taken { node: NodeId, reading: ReadingId },
}

impl Duty<'_> {
    /// What it depends on, before that is closed over branches.
    pub(crate) fn slice(&self, graph: &StepGraph) -> Slice {
        match self {
            Self::Assertion { assertion, .. } => Slice::of(&assertion.condition),
            Self::Interlock { interlock } => Slice::of(&interlock.holds),
            Self::Restore { restore, .. } | Self::Leaves { restore, .. } => {
                Slice { values: BTreeSet::from([restore.variable]), ..Slice::default() }
            }
            Self::SafeToLeave { .. } => Slice::of(&graph.safe_to_leave.0),
            Self::AsFound { call, variable, .. } => Slice {
                values: BTreeSet::from([*variable]),
                found: BTreeSet::from([(*call, *variable)]),
                ..Slice::default()
            },
            Self::Taken { reading, .. } => {
                Slice { readings: BTreeSet::from([*reading]), ..Slice::default() }
            }
        }
    }

    /// A name by which a test may speak of it.
    pub(crate) fn key(&self) -> String {
        match self {
            Self::Assertion { node, assertion } => {
                format!("assertion {} {}", node.index(), assertion.written)
            }
            Self::Interlock { interlock } => format!("interlock {}", interlock.written),
            Self::Restore { restore, .. } => format!("restore {}", restore.variable.0),
            Self::SafeToLeave { .. } => "leave".into(),
            Self::AsFound { call, variable, .. } => format!("found {call} {}", variable.0),
            Self::Leaves { restore, .. } => format!("leaves {}", restore.variable.0),
            Self::Taken { reading, .. } => format!("taken {}", reading.0),
        }
    }

    /// The node at which it is judged; none: everywhere.
    pub(crate) fn place(&self) -> Option<NodeId> {
        match self {
            Self::Interlock { .. } => None,
            Self::Assertion { node, .. }
            | Self::Restore { node, .. }
            | Self::SafeToLeave { node }
            | Self::AsFound { node, .. }
            | Self::Leaves { node, .. }
            | Self::Taken { node, .. } => Some(*node),
        }
    }

    /// Whether it fails in a state; `before` is the state that led here. What depends on readings
    /// alone cannot be told here and does not fail.
    pub(crate) fn fails(&self, graph: &StepGraph, state: &State, before: Option<&State>) -> bool {
        match self {
            Self::Assertion { assertion, .. } => state.holds(&assertion.condition) == Some(false),
            // Only where it comes to be broken: afterwards it is the same fault.
            Self::Interlock { interlock } => {
                state.holds(&interlock.holds) == Some(false)
                    && before.is_none_or(|before| before.holds(&interlock.holds) != Some(false))
            }
            Self::Restore { restore, .. } | Self::Leaves { restore, .. } => state
                .values
                .get(&restore.variable)
                .is_some_and(|value| !restore.values.contains(value)),
            Self::SafeToLeave { .. } => state.holds(&graph.safe_to_leave.0) == Some(false),
            Self::AsFound { call, variable, .. } => state
                .found
                .get(&(*call, *variable))
                .is_some_and(|found| state.values.get(variable) != Some(found)),
            Self::Taken { reading, .. } => !state.taken.contains(reading),
        }
    }
}

/// Every duty of a graph.
pub(crate) fn duties(graph: &StepGraph) -> Vec<Duty<'_>> {
    let mut duties: Vec<Duty<'_>> =
        graph.interlocks.iter().map(|interlock| Duty::Interlock { interlock }).collect();
    for node in graph.flow.node_indices() {
        match &graph.node(node).kind {
            NodeKind::Act(act) => {
                duties.extend(
                    act.assertions.iter().map(|assertion| Duty::Assertion { node, assertion }),
                );
                duties.extend(
                    used_by_act(&act.kind).into_iter().map(|reading| Duty::Taken { node, reading }),
                );
            }
            NodeKind::Branch(condition) => {
                duties.extend(
                    used_by(condition).into_iter().map(|reading| Duty::Taken { node, reading }),
                );
            }
            NodeKind::Enter { needs, .. } => {
                duties.extend(needs.iter().map(|assertion| Duty::Assertion { node, assertion }));
            }
            NodeKind::Leave { call, as_found, leaves, .. } => {
                let owed = as_found.iter().filter(|variable| writes(graph, **variable));
                duties.extend(owed.map(|variable| Duty::AsFound {
                    node,
                    call: *call,
                    variable: *variable,
                }));
                duties.extend(leaves.iter().map(|restore| Duty::Leaves { node, restore }));
            }
            NodeKind::End(End::Done) => {
                duties.extend(graph.restore.iter().map(|restore| Duty::Restore { node, restore }));
            }
            NodeKind::End(End::Stop { .. } | End::Refer { .. }) => {
                duties.push(Duty::SafeToLeave { node });
            }
            NodeKind::Pass
            | NodeKind::AnyOrder { .. }
            | NodeKind::ChildDone { .. }
            | NodeKind::Repeat(_) => {}
        }
    }
    duties
}

fn writes(graph: &StepGraph, variable: VariableId) -> bool {
    let of_nodes = graph.flow.node_weights().flat_map(|node| &node.effects);
    let of_edges = graph.flow.edge_weights().flat_map(|edge| &edge.effects);
    of_nodes.chain(of_edges).any(
        |effect| matches!(effect, Effect::Set { variable: written, .. } if *written == variable),
    )
}

/// Readings that an act rests on, its own aside.
fn used_by_act(kind: &ActKind) -> BTreeSet<ReadingId> {
    let mut used = BTreeSet::new();
    if let Some(Verdict::Accept { computed: Some(ends), .. }) = kind.verdict() {
        for (end, _) in ends.lower.iter().chain(&ends.upper) {
            gather(end, &mut used);
        }
    }
    match kind {
        ActKind::Check { value, .. } => gather(value, &mut used),
        ActKind::Choose(choice) => {
            gather(&choice.value, &mut used);
            used.remove(&choice.reading);
        }
        ActKind::Confirm
        | ActKind::Do
        | ActKind::Wait { .. }
        | ActKind::Measure { .. }
        | ActKind::Count { .. }
        | ActKind::Observe { .. }
        | ActKind::Record { .. } => {}
    }
    used
}

fn used_by(condition: &Condition) -> BTreeSet<ReadingId> {
    let mut used = BTreeSet::new();
    for test in condition.tests() {
        if let Test::Within { value, .. } = test {
            gather(value, &mut used);
        }
    }
    used
}

fn gather(expression: &Expression, used: &mut BTreeSet<ReadingId>) {
    match expression {
        Expression::Value(_) => {}
        Expression::Reading(reading) | Expression::Point(reading, _) => {
            used.insert(*reading);
        }
        Expression::Fold(_, parts) => parts.iter().for_each(|part| gather(part, used)),
        Expression::Binary(_, left, right) => {
            gather(left, used);
            gather(right, used);
        }
        Expression::Negative(inner) => gather(inner, used),
    }
}
