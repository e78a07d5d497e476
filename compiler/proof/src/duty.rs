//! What must hold where: every property of a graph, each with the slice that it can depend on.

use crate::engine::{Asks, Cell, Index, Look, Slice, System, condition_key};
use locknut_graph::{
    Assertion, Condition, Effect, End, Interlock, LineValue, NodeId, NodeKind, Prose, ProsePiece,
    ReadingId, Restore, StepGraph, Test, VariableId, VariableKind,
};
use std::borrow::Cow;
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
    /// At `stop` and `refer to`, and where a reading may be undecided: all of it, or one of the parts that must
    /// all hold.
    SafeToLeave { node: NodeId, part: Cow<'a, Condition> },
    /// At the end of a subtask: what it does not name is as it was found.
    AsFound { node: NodeId, call: u16, variable: VariableId },
    /// At the end of a subtask: what it leaves.
    Leaves { node: NodeId, restore: &'a Restore },
    /// A reading is used that must have been taken.
    Taken { node: NodeId, reading: ReadingId },
    /// People side by side do not wait for each other for ever.
    Stuck { node: NodeId },
}

impl Duty<'_> {
    /// What it depends on, before that is closed over branches.
    pub(crate) fn slice(&self, index: &Index<'_>) -> Slice {
        Slice(match self {
            Self::Assertion { assertion, .. } => index.cells(&assertion.condition),
            Self::Interlock { interlock } => index.cells(&interlock.holds),
            Self::Restore { restore, .. } | Self::Leaves { restore, .. } => {
                index.cells(&restore.condition())
            }
            Self::SafeToLeave { part, .. } => index.cells(part),
            Self::AsFound { call, variable, .. } => {
                BTreeSet::from([Cell::Value(*variable), Cell::Found(*call, *variable)])
            }
            Self::Taken { reading, .. } => BTreeSet::from([Cell::Taken(*reading)]),
            Self::Stuck { .. } => BTreeSet::new(),
        })
    }

    /// The same duty in parts that can be judged one by one; empty where it has none.
    pub(crate) fn parts(&self) -> Vec<Self> {
        let Self::SafeToLeave { node, part } = self else { return Vec::new() };
        let Condition::All(parts) = part.as_ref() else { return Vec::new() };
        let own =
            |part: &Condition| Self::SafeToLeave { node: *node, part: Cow::Owned(part.clone()) };
        parts.iter().map(own).collect()
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
            Self::Stuck { .. } => "stuck".into(),
        }
    }

    /// What it asks, told so that duties that ask the same of different nodes are told alike.
    pub(crate) fn alike(&self) -> String {
        match self {
            Self::Assertion { assertion, .. } => condition_key(&assertion.condition),
            Self::Restore { restore, .. } => {
                format!("restore {}", condition_key(&restore.condition()))
            }
            Self::Leaves { restore, .. } => {
                format!("leaves {}", condition_key(&restore.condition()))
            }
            Self::Interlock { .. }
            | Self::SafeToLeave { .. }
            | Self::AsFound { .. }
            | Self::Taken { .. }
            | Self::Stuck { .. } => self.key(),
        }
    }

    /// The node at which it is judged; none: everywhere.
    pub(crate) fn place(&self) -> Option<NodeId> {
        match self {
            Self::Interlock { .. } => None,
            Self::Assertion { node, .. }
            | Self::Restore { node, .. }
            | Self::SafeToLeave { node, .. }
            | Self::AsFound { node, .. }
            | Self::Leaves { node, .. }
            | Self::Taken { node, .. }
            | Self::Stuck { node } => Some(*node),
        }
    }

    /// How it is told whether it fails in a state of a system.
    pub(crate) fn check(&self, system: &System<'_, '_>) -> Check {
        match self {
            Self::Assertion { assertion, .. } => Check::Fails(system.asks(&assertion.condition)),
            Self::Interlock { interlock } => Check::Fails(system.asks(&interlock.holds)),
            Self::Restore { restore, .. } | Self::Leaves { restore, .. } => {
                Check::Fails(system.asks(&restore.condition()))
            }
            Self::SafeToLeave { part, .. } => Check::Fails(system.asks(part)),
            Self::AsFound { call, variable, .. } => Check::NotAsFound(*call, *variable),
            Self::Taken { reading, .. } => Check::NotTaken(*reading),
            Self::Stuck { .. } => Check::Stuck,
        }
    }
}

/// What makes a duty fail. What is not certain fails.
pub(crate) enum Check {
    /// It does not hold for certain.
    Fails(Asks),
    NotAsFound(u16, VariableId),
    NotTaken(ReadingId),
    /// Nobody can go on.
    Stuck,
}

impl Check {
    /// Whether the duty fails in a state.
    pub(crate) fn fails(&self, system: &System<'_, '_>, state: &[u64]) -> bool {
        match self {
            Self::Fails(asks) => asks.hold(state) != Some(true),
            Self::NotAsFound(call, variable) => system.changed(state, *call, *variable),
            Self::NotTaken(reading) => !system.taken(state, *reading),
            Self::Stuck => system.stuck(state),
        }
    }

    /// What that goes by, judged at a node or anywhere.
    pub(crate) fn look(&self, system: &System<'_, '_>, node: Option<usize>) -> Look {
        match self {
            Self::Fails(asks) => Look::asking(asks),
            Self::NotAsFound(call, variable) => system.looks_changed(*call, *variable),
            Self::NotTaken(reading) => system.looks_taken(*reading),
            Self::Stuck => node.map(|node| system.looks_stuck(node)).unwrap_or_default(),
        }
    }
}

/// Every duty of a graph.
pub(crate) fn duties(graph: &StepGraph) -> Vec<Duty<'_>> {
    let written = written(graph);
    let mut duties: Vec<Duty<'_>> =
        graph.interlocks.iter().map(|interlock| Duty::Interlock { interlock }).collect();
    for node in graph.flow.node_indices() {
        match &graph.node(node).kind {
            NodeKind::Act(act) => {
                if act.waits_undecided().is_some() {
                    let part = Cow::Owned(once_done(graph, node, &graph.safe_to_leave.0, true));
                    duties.push(Duty::SafeToLeave { node, part });
                }
                duties.extend(
                    act.assertions.iter().map(|assertion| Duty::Assertion { node, assertion }),
                );
                let mut used = act.kind.rests_on();
                used.extend(act.line.values.values().flat_map(named_in));
                // `fit shim-pack with shim`: the part that was chosen.
                if let Some(LineValue::Reading(part)) = act.line.values.get("with") {
                    used.insert(*part);
                }
                if let Some(own) = act.kind.reading() {
                    used.remove(&own);
                }
                duties.extend(used.into_iter().map(|reading| Duty::Taken { node, reading }));
            }
            NodeKind::Together { .. } => duties.push(Duty::Stuck { node }),
            NodeKind::Branch(condition) => {
                duties.extend(
                    used_by(condition).into_iter().map(|reading| Duty::Taken { node, reading }),
                );
            }
            NodeKind::Enter { needs, .. } => {
                duties.extend(needs.iter().map(|assertion| Duty::Assertion { node, assertion }));
            }
            NodeKind::Leave { call, as_found, leaves, .. } => {
                let owed = as_found.iter().filter(|variable| written.contains(*variable));
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
                duties
                    .push(Duty::SafeToLeave { node, part: Cow::Borrowed(&graph.safe_to_leave.0) });
                let holds = graph.restore.iter().filter(|restore| {
                    matches!(graph.variable(restore.variable).kind, VariableKind::Hold { .. })
                });
                duties.extend(holds.map(|restore| Duty::Restore { node, restore }));
            }
            NodeKind::Pass
            | NodeKind::AnyOrder { .. }
            | NodeKind::ChildDone { .. }
            | NodeKind::LaneDone { .. }
            | NodeKind::Await(_)
            | NodeKind::Repeat(_) => {}
        }
    }
    let in_doubt = graph.in_doubt.iter();
    duties.extend(in_doubt.map(|(node, assertion)| Duty::Assertion { node: *node, assertion }));
    for step in &graph.steps {
        let named = step.text.iter().flat_map(named_by).collect::<BTreeSet<_>>();
        let node = step.first;
        duties.extend(named.into_iter().map(|reading| Duty::Taken { node, reading }));
    }
    duties
}

/// What must, or must not, hold before an act for this to hold once it is done: taking a reading may change
/// the machine.
fn once_done(graph: &StepGraph, node: NodeId, condition: &Condition, must: bool) -> Condition {
    let all =
        |parts: &[Condition]| parts.iter().map(|part| once_done(graph, node, part, must)).collect();
    match condition {
        Condition::Always(_) => condition.clone(),
        Condition::Not(inner) => Condition::Not(Box::new(once_done(graph, node, inner, !must))),
        Condition::All(parts) => Condition::All(all(parts)),
        Condition::Any(parts) => Condition::Any(all(parts)),
        Condition::Test(test) => {
            let set = test.variable().and_then(|id| set_at(graph, node, id));
            let Some(value) = set else { return condition.clone() };
            match test {
                Test::Is { values, .. } => Condition::Always(values.contains(&value)),
                // For how long it has been so by then nobody knows.
                Test::Held { values, .. } => Condition::Always(values.contains(&value) && !must),
                Test::Proved { .. } => Condition::Always(false),
                Test::Within { .. } => condition.clone(),
            }
        }
    }
}

/// The value that the acts of a node give to a variable, where they do.
pub(crate) fn set_at(graph: &StepGraph, node: NodeId, variable: VariableId) -> Option<u8> {
    graph.node(node).effects.iter().rev().find_map(|effect| effect.sets(variable))
}

/// Readings whose values a text shows.
fn named_by(text: &Prose) -> Vec<ReadingId> {
    let named = text.pieces.iter().filter_map(|piece| match piece {
        ProsePiece::Reading(reading) => Some(*reading),
        ProsePiece::Plain(_)
        | ProsePiece::Name { .. }
        | ProsePiece::Quantity(_)
        | ProsePiece::Limit(_) => None,
    });
    named.collect()
}

fn named_in(value: &LineValue) -> Vec<ReadingId> {
    if let LineValue::Prose(text) = value { named_by(text) } else { Vec::new() }
}

/// Variables that something writes.
fn written(graph: &StepGraph) -> BTreeSet<VariableId> {
    let set = |effect: &Effect| {
        if let Effect::Set { variable, .. } = effect { Some(*variable) } else { None }
    };
    graph.effects().filter_map(set).collect()
}

fn used_by(condition: &Condition) -> BTreeSet<ReadingId> {
    let within = |test: &Test| {
        if let Test::Within { value, .. } = test { value.readings() } else { BTreeSet::new() }
    };
    condition.tests().iter().flat_map(|test| within(test)).collect()
}
