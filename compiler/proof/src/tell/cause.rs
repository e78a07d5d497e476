//! One cause, one finding: which faults come of the same mistake.

use super::lack::Lack;
use crate::duty::Duty;
use crate::race::race;
use crate::walk::Fault;
use crate::words::last_writer;
use locknut_graph::{
    Assertion, Because, Condition, Effect, NodeId, NodeKind, Restore, StepGraph, Test, VariableId,
    VariableKind, Way,
};
use std::collections::BTreeSet;

/// The act on a sealed part that is at fault.
pub(super) fn on_sealed(fault: &Fault<'_>) -> Option<NodeId> {
    let Duty::Assertion { node, assertion } = &fault.duty else { return None };
    Some(*node).filter(|_| matches!(assertion.because, Because::Sealed { .. }))
}

/// Whether a fault only comes of what a line or a subtask was begun without, or ended without: the fault there is the cause.
pub(super) fn follows(graph: &StepGraph, fault: &Fault<'_>, all: &[Fault<'_>]) -> bool {
    let depends = match &fault.duty {
        Duty::Assertion { assertion, .. } => assertion.condition.variables(),
        Duty::Interlock { interlock } => interlock.holds.variables(),
        Duty::SafeToLeave { part, .. } => part.variables(),
        Duty::Restore { restore, .. } => return could_not_be_done(graph, fault, restore, all),
        Duty::AsFound { .. } | Duty::Leaves { .. } | Duty::Taken { .. } | Duty::Stuck { .. } => {
            return false;
        }
    };
    if tool_put_in_everywhere(graph, fault, &depends, all) {
        return true;
    }
    // The cause comes first, so that of faults that lead to one another one is told.
    let earlier = all.iter().filter(|other| other.trail.len() < fault.trail.len());
    earlier.into_iter().any(|other| {
        let begun =
            |of: &Assertion| matches!(of.because, Because::StartsWith { .. } | Because::Needs);
        let (at, lacks) = if let Duty::Assertion { node, assertion } = &other.duty
            && begun(assertion)
        {
            (*node, assertion.condition.variables())
        } else if let Duty::Leaves { node, restore } = &other.duty {
            (*node, [restore.variable].into())
        } else {
            return false;
        };
        let passed = fault.trail.iter().rposition(|(node, _)| *node == at);
        let Some(behind) = passed.and_then(|at| fault.trail.get(at + 1..)) else { return false };
        let shared: Vec<VariableId> =
            lacks.into_iter().filter(|variable| depends.contains(variable)).collect();
        // As it was left there it is still.
        let same = |variable: &VariableId| {
            last_writer(graph, behind, *variable).is_none()
                && fault.values.get(variable) == other.values.get(variable)
        };
        !shared.is_empty() && shared.iter().all(same)
    })
}

/// Whether a line that puts one tool in at several points at once made it so: that line cannot be done at all.
fn tool_put_in_everywhere(
    graph: &StepGraph,
    fault: &Fault<'_>,
    depends: &BTreeSet<VariableId>,
    all: &[Fault<'_>],
) -> bool {
    let everywhere = |of: &Fault<'_>| {
        let Duty::Assertion { node, assertion } = &of.duty else { return None };
        matches!(assertion.because, Because::OneTool { still_in: None, .. }).then_some(*node)
    };
    let lines: BTreeSet<NodeId> = all.iter().filter_map(everywhere).collect();
    let written = depends.iter().filter_map(|on| last_writer(graph, &fault.trail, *on));
    everywhere(fault).is_none() && written.into_iter().any(|node| lines.contains(&node))
}

/// Whether the line that would have put a thing back came where that could not be done: that is told of the line.
fn could_not_be_done(
    graph: &StepGraph,
    fault: &Fault<'_>,
    restore: &Restore,
    all: &[Fault<'_>],
) -> bool {
    all.iter().any(|other| {
        let Duty::Assertion { node, assertion } = &other.duty else { return false };
        let own = matches!(assertion.because, Because::Element { .. })
            && assertion.condition.variables() == [restore.variable].into();
        let Some(passed) = fault.trail.iter().position(|(at, _)| at == node) else { return false };
        let effects = &graph.node(*node).effects;
        let mut sets = effects.iter().filter_map(|effect| effect.sets(restore.variable));
        let ahead = fault.trail.get(..passed).unwrap_or_default();
        let as_there = last_writer(graph, ahead, restore.variable)
            == last_writer(graph, &other.trail, restore.variable);
        own && as_there && sets.any(|value| restore.values.contains(&value))
    })
}

/// Faults with the same key have one cause. A line that is laid several times, at each point or for each call, is one
/// line, and what stands at several points is one declaration.
pub(super) fn cause(graph: &StepGraph, fault: &Fault<'_>) -> String {
    if let Lack::Upper { span, .. } = &fault.lack {
        return format!("upper {span:?}");
    }
    let line = |node: NodeId| graph.node(node).span;
    let declared = |variable: VariableId| graph.variable(variable).span;
    match &fault.duty {
        Duty::Assertion { assertion, node } => match &assertion.because {
            Because::Needs | Because::Dead { .. } | Because::Never { .. } => {
                format!("assertion {:?} {}", assertion.span, told_of(graph, &assertion.condition))
            }
            // Whoever holds something is given all of a step: that is one mistake.
            Because::Hands { who, .. } => format!("hands {:?} {who:?}", assertion.span),
            // Whatever counts on it behind the reading that denied it goes on where the job should not.
            Because::Denied { states } => {
                let own = states.iter().map(|(_, own)| last_writer(graph, &fault.trail, *own));
                let denied_at: Vec<_> = own.map(|node| node.map(line)).collect();
                format!("denied {denied_at:?}")
            }
            // What stands in the way stands in the way of every line until somebody moves it.
            Because::Relation { .. } => {
                let variables = assertion.condition.variables().into_iter();
                let writers = variables.map(|variable| last_writer(graph, &fault.trail, variable));
                let since: Vec<_> = writers.map(|node| node.map(line)).collect();
                format!("way {} {since:?}", told_of(graph, &assertion.condition))
            }
            Because::Element { .. } => match second_round(fault) {
                Some(repeat) => format!("again {:?}", line(repeat)),
                None => {
                    format!("assertion {:?} {}", line(*node), told_of(graph, &assertion.condition))
                }
            },
            Because::SingleUse { .. }
            | Because::OneTool { .. }
            | Because::Sealed { .. }
            | Because::Lock { .. }
            | Because::StartsWith { .. }
            | Because::MadeSo
            | Because::Change { .. }
            | Because::Oiled { .. } => {
                format!("assertion {:?} {}", line(*node), told_of(graph, &assertion.condition))
            }
        },
        // Where either may be first, whatever comes second breaks it: that is one mistake.
        Duty::Interlock { interlock } => match race(graph, fault) {
            Some(race) => format!("race {:?} {:?}", interlock.span, race.block()),
            None => format!("interlock {:?} {:?}", interlock.span, fault.node.map(line)),
        },
        // A thing left loose at one end is left loose at all of them.
        Duty::Restore { restore, .. } => {
            // What an arm that ends the job leaves as it stands is one thing forgotten.
            if let Some(done) = early_end(graph, fault, restore) {
                return format!("early {:?}", line(done));
            }
            let writer = last_writer(graph, &fault.trail, restore.variable);
            format!("restore {:?} {:?}", declared(restore.variable), writer.map(line))
        }
        Duty::SafeToLeave { node, .. } => format!("leave {:?}", line(*node)),
        Duty::AsFound { node, variable, .. } => {
            format!("found {:?} {:?}", line(*node), declared(*variable))
        }
        Duty::Leaves { restore, .. } => {
            format!("leaves {:?} {:?}", restore.span, declared(restore.variable))
        }
        // Of people side by side whoever comes to it first has no reading to go by.
        Duty::Taken { node, reading } => {
            let at = around(graph, *node).unwrap_or(*node);
            format!("taken {:?} {:?}", line(at), graph.reading(*reading).span)
        }
        Duty::Stuck { node } => format!("stuck {:?}", line(*node)),
    }
}

/// The block of people side by side in whose lanes a node stands, the innermost.
fn around(graph: &StepGraph, node: NodeId) -> Option<NodeId> {
    let blocks = graph.flow.node_indices();
    let blocks = blocks.filter(|at| matches!(graph.node(*at).kind, NodeKind::Together { .. }));
    let inside = blocks.map(|block| (lanes_of(graph, block), block));
    let around = inside.filter(|(inside, _)| inside.contains(&node));
    around.min_by_key(|(inside, _)| inside.len()).map(|(_, block)| block)
}

/// All that stands in the lanes of a block.
fn lanes_of(graph: &StepGraph, block: NodeId) -> BTreeSet<NodeId> {
    let next = |node: NodeId| graph.ways(node).into_iter().map(|(_, _, to)| to);
    let (mut inside, mut left) = (BTreeSet::new(), next(block).collect::<Vec<_>>());
    while let Some(node) = left.pop() {
        let done =
            matches!(graph.node(node).kind, NodeKind::LaneDone { together } if together == block);
        if !done && inside.insert(node) {
            left.extend(next(node));
        }
    }
    inside
}

/// The `repeat` by which the job came to an act again that was right the first time.
pub(super) fn second_round(fault: &Fault<'_>) -> Option<NodeId> {
    let Duty::Assertion { node, .. } = &fault.duty else { return None };
    let first = fault.trail.iter().position(|(at, _)| at == node)?;
    let mut since = fault.trail.iter().skip(first).rev();
    since.find(|(_, way)| *way == Way::Again).map(|(at, _)| *at)
}

/// The `done` in an arm by which the job ended ahead of what would have put this back.
pub(super) fn early_end(graph: &StepGraph, fault: &Fault<'_>, restore: &Restore) -> Option<NodeId> {
    let ends = |node: &NodeId| graph.node(*node).effects.contains(&Effect::LeaveBlocks);
    let done = fault.trail.iter().map(|(node, _)| *node).find(ends)?;
    let declared = graph.variable(restore.variable);
    let thing = matches!(declared.kind, VariableKind::State | VariableKind::Element { .. });
    let puts_back = |node: &NodeId| {
        let ways = graph.ways(*node).into_iter().flat_map(|(_, edge, _)| &edge.effects);
        let mut effects = graph.node(*node).effects.iter().chain(ways);
        effects.any(|effect| {
            effect.sets(restore.variable).is_some_and(|value| restore.values.contains(&value))
        })
    };
    // Where nothing behind it puts it back either, that is a fault of its own.
    (thing && past(graph, fault, done).iter().any(puts_back)).then_some(done)
}

/// What may still be done where an arm ends the job, in its place: behind it, or by somebody beside it.
fn past(graph: &StepGraph, fault: &Fault<'_>, done: NodeId) -> BTreeSet<NodeId> {
    let ahead = fault.trail.iter().map(|(node, _)| *node).take_while(|node| *node != done);
    let decides = |node: &NodeId| {
        matches!(graph.node(*node).kind, NodeKind::Act(_) | NodeKind::Branch(_))
            && graph.ways(*node).len() > 1
    };
    let mut next: Vec<NodeId> = ahead.filter(decides).last().into_iter().collect();
    let mut past = BTreeSet::from([done]);
    while let Some(node) = next.pop() {
        let ways = graph.ways(node).into_iter().map(|(_, _, to)| to);
        let back = graph.node(node).kind.back_to();
        next.extend(ways.chain(back).filter(|to| past.insert(*to)));
    }
    past
}

/// A condition by where its variables are declared.
fn told_of(graph: &StepGraph, condition: &Condition) -> String {
    let tests = condition.tests().into_iter().map(|test| match test {
        Test::Is { variable, values, .. } => {
            format!("is {:?} {values:?}", graph.variable(*variable).span)
        }
        Test::Proved { variable, values, .. } => {
            format!("proved {:?} {values:?}", graph.variable(*variable).span)
        }
        Test::Held { variable, values, seconds, under, .. } => {
            format!("held {:?} {values:?} {seconds} {under}", graph.variable(*variable).span)
        }
        Test::Within { .. } => format!("{test:?}"),
    });
    tests.collect::<Vec<_>>().join(", ")
}

/// Which of several faults of one cause it is, where that is worth a remark: at which point, of which call.
pub(super) fn which(fault: &Fault<'_>) -> Option<String> {
    match &fault.duty {
        // These count for themselves, or have but one place.
        Duty::Assertion { assertion, .. }
            if matches!(assertion.because, Because::Needs | Because::Hands { .. }) =>
        {
            None
        }
        Duty::Assertion { node, assertion } => {
            Some(format!("{} {:?}", node.index(), assertion.condition))
        }
        Duty::Interlock { interlock } => Some(format!("{:?} {:?}", fault.node, interlock.holds)),
        Duty::Restore { restore, .. } | Duty::Leaves { restore, .. } => {
            Some(format!("{}", restore.variable.0))
        }
        Duty::AsFound { call, variable, .. } => Some(format!("{call} {}", variable.0)),
        Duty::SafeToLeave { node, .. } | Duty::Taken { node, .. } | Duty::Stuck { node } => {
            Some(format!("{}", node.index()))
        }
    }
}
