//! Faults → findings: which struct of facts a failed duty fills.

use crate::duty::{Duty, set_at};
use crate::engine::System;
use crate::race::race;
use crate::walk::Fault;
use crate::words::{last_writer, standing, time_words, value_words, wanted};
use crate::{hardware, mends, people, readings, states};
use locknut_finding::{Findings, Span};
use locknut_graph::{
    Assertion, Because, Condition, NodeId, NodeKind, Restore, StepGraph, Test, VariableId,
    VariableKind,
};
use std::collections::{BTreeMap, BTreeSet};

/// Why a condition fails, beyond the values.
pub(crate) enum Lack {
    /// A variable has another value.
    Value,
    /// It has the value, but nobody proved it.
    Proof(VariableId, u8),
    /// It has the value, but not yet for so long: seconds waited and wanted.
    Time { variable: VariableId, waited: locknut_quantity::Exact, wanted: locknut_quantity::Exact },
    /// It has the value, and nobody knows that it has not had it for so many seconds: the test asks that.
    Upper { variable: VariableId, limit: locknut_quantity::Exact, span: Span },
}

/// What a condition lacks in a state.
pub(crate) fn lack(condition: &Condition, system: &System<'_, '_>, state: &[u64]) -> Lack {
    let values = system.values(state);
    let mut tests = Vec::new();
    wanted_tests(condition, true, &mut tests);
    for (test, must) in tests {
        if system.asks(&Condition::Test(test.clone())).hold(state) == Some(must) {
            continue;
        }
        let has = |variable: &VariableId, good: &[u8]| {
            values.get(variable).is_some_and(|value| good.contains(value))
        };
        match test {
            Test::Proved { variable, values: good, .. } if must => {
                if let Some(value) = values.get(variable).filter(|value| good.contains(value)) {
                    return Lack::Proof(*variable, *value);
                }
            }
            Test::Held { variable, values: good, seconds, under, span } if has(variable, good) => {
                if must == *under {
                    let limit = seconds.clone();
                    return Lack::Upper { variable: *variable, limit, span: *span };
                }
                if let Some(waited) = system.waited(state, *variable) {
                    return Lack::Time { variable: *variable, waited, wanted: seconds.clone() };
                }
            }
            Test::Proved { .. } | Test::Held { .. } | Test::Is { .. } | Test::Within { .. } => {}
        }
    }
    Lack::Value
}

/// All tests of a condition, each with whether it must hold or must not.
fn wanted_tests<'c>(condition: &'c Condition, must: bool, tests: &mut Vec<(&'c Test, bool)>) {
    match condition {
        Condition::Always(_) => {}
        Condition::Test(test) => tests.push((test, must)),
        Condition::Not(inner) => wanted_tests(inner, !must, tests),
        Condition::All(parts) | Condition::Any(parts) => {
            for part in parts {
                wanted_tests(part, must, tests);
            }
        }
    }
}

/// Tells every fault; those that ask for the same thing for the same reason are told once, where the
/// path is shortest, and counted.
pub(crate) fn tell(graph: &StepGraph, faults: &[Fault<'_>], found: &mut Findings) {
    let mut more: BTreeMap<String, usize> = BTreeMap::new();
    for fault in faults {
        *more.entry(cause(graph, fault)).or_default() += 1 + fault.alike.len();
    }
    // Whatever else is wrong with an act on a sealed part, it must not be done at all.
    let sealed: BTreeSet<NodeId> = faults.iter().filter_map(on_sealed).collect();
    let mut told = BTreeSet::new();
    let mut by_length: Vec<&Fault<'_>> = faults.iter().collect();
    by_length.sort_by_key(|fault| fault.trail.len());
    for fault in by_length {
        let on_sealed = on_sealed(fault).is_some();
        if fault.node.is_some_and(|node| sealed.contains(&node)) && !on_sealed {
            continue;
        }
        let cause = cause(graph, fault);
        let others = more.get(&cause).copied().unwrap_or(1) - 1;
        if told.insert(cause) {
            one(graph, fault, others, found);
            found.propose(mends::proposals(graph, fault));
        }
    }
}

/// The act on a sealed part that is at fault.
fn on_sealed(fault: &Fault<'_>) -> Option<NodeId> {
    let Duty::Assertion { node, assertion } = &fault.duty else { return None };
    Some(*node).filter(|_| matches!(assertion.because, Because::Sealed { .. }))
}

/// Faults with the same key have one cause.
fn cause(graph: &StepGraph, fault: &Fault<'_>) -> String {
    if let Lack::Upper { span, .. } = &fault.lack {
        return format!("upper {span:?}");
    }
    match &fault.duty {
        Duty::Assertion { assertion, node } => match &assertion.because {
            Because::Needs | Because::Dead { .. } | Because::Never { .. } => {
                format!("assertion {:?} {:?}", assertion.span, assertion.condition)
            }
            // Whoever holds something is given all of a step: that is one mistake.
            Because::Hands { who, .. } => format!("hands {:?} {who:?}", assertion.span),
            Because::Element { .. }
            | Because::Relation { .. }
            | Because::SingleUse { .. }
            | Because::Sealed { .. }
            | Because::Lock { .. }
            | Because::StartsWith { .. }
            | Because::MadeSo
            | Because::Change { .. }
            | Because::Oiled { .. } => {
                format!("assertion {} {:?}", node.index(), assertion.condition)
            }
        },
        // Of two people at once, whoever comes second breaks it: that is one mistake.
        Duty::Interlock { interlock } => match race(graph, fault) {
            Some(block) => format!("race {:?} {block:?}", interlock.span),
            None => format!("interlock {:?} {:?}", interlock.span, fault.node),
        },
        // A thing left loose at one end is left loose at all of them.
        Duty::Restore { restore, .. } => format!("restore {}", restore.variable.0),
        Duty::SafeToLeave { node, .. } => format!("leave {}", node.index()),
        Duty::AsFound { call, variable, .. } => format!("found {call} {}", variable.0),
        Duty::Leaves { node, restore } => format!("leaves {} {}", node.index(), restore.variable.0),
        Duty::Taken { node, reading } => format!("taken {} {}", node.index(), reading.0),
        Duty::Stuck { node } => format!("stuck {}", node.index()),
    }
}

fn one(graph: &StepGraph, fault: &Fault<'_>, more: usize, found: &mut Findings) {
    match &fault.duty {
        Duty::Assertion { node, assertion } => {
            assertion_failed(graph, fault, *node, assertion, more, found);
        }
        Duty::Interlock { interlock } => {
            let act = fault.node.map(|node| graph.node(node).span);
            let because = interlock.because.written();
            match &fault.lack {
                Lack::Proof(..) | Lack::Time { .. } | Lack::Upper { .. } => {
                    lacking(graph, fault, act, interlock.span, Some(because), found);
                }
                Lack::Value if let Some(part) = &interlock.held => {
                    found.add(&people::NobodyHolds {
                        act,
                        declared: interlock.span,
                        part: part.said.clone(),
                        name: part.name.clone(),
                        stands: standing(graph, &fault.values),
                        path: fault.path.clone(),
                    });
                }
                Lack::Value => found.add(&states::BrokenInterlock {
                    act,
                    interlock: interlock.span,
                    written: interlock.written.clone(),
                    because,
                    stands: standing(graph, &fault.values),
                    beside: race(graph, fault).map(|block| graph.node(block).span),
                    path: fault.path.clone(),
                }),
            }
        }
        Duty::Restore { restore, .. } => not_restored(graph, fault, restore, found),
        Duty::Stuck { node } => found.add(&people::WaitingForEachOther {
            block: graph.node(*node).span,
            waits: fault.waits.iter().filter_map(|node| waits(graph, *node)).collect(),
            path: fault.path.clone(),
        }),
        Duty::SafeToLeave { node, .. } => not_safe(graph, fault, *node, found),
        Duty::AsFound { node, variable, .. } => {
            let value = fault.values.get(variable).copied().unwrap_or_default();
            let declared = graph.variable(*variable);
            found.add(&states::NotAsFound {
                written_at: written_at(graph, fault, *variable).unwrap_or(graph.node(*node).span),
                subtask: subtask(graph, *node),
                variable: declared.words.said.clone(),
                stands: said(graph, *variable, value),
                name: declared.words.name.clone(),
                value_name: value_name(graph, *variable, value),
                path: fault.path.clone(),
            });
        }
        Duty::Leaves { node, restore } => {
            let value = fault.values.get(&restore.variable).copied().unwrap_or_default();
            let want = restore.values.first().copied().unwrap_or_default();
            found.add(&states::NotLeftSo {
                owed: restore.span,
                subtask: subtask(graph, *node),
                variable: graph.variable(restore.variable).words.said.clone(),
                stands: said(graph, restore.variable, value),
                wanted: said(graph, restore.variable, want),
                path: fault.path.clone(),
            });
        }
        Duty::Taken { node, reading } => found.add(&readings::ReadingNotTaken {
            used: graph.node(*node).span,
            reading: graph.reading(*reading).words.said.clone(),
            taken: graph.reading(*reading).span,
            path: fault.path.clone(),
        }),
    }
}

fn not_safe(graph: &StepGraph, fault: &Fault<'_>, node: NodeId, found: &mut Findings) {
    if let Lack::Upper { .. } = &fault.lack {
        lacking(graph, fault, Some(graph.node(node).span), graph.safe_to_leave.1, None, found);
        return;
    }
    let (rule, said) = (graph.safe_to_leave.1, graph.leave_said);
    let path = fault.path.clone();
    let here = graph.node(node);
    if let Some((act, limit)) = here.act().and_then(|act| Some((act, act.waits_undecided()?))) {
        let read = act.kind.reading().map(|reading| graph.reading(reading).words.said.clone());
        let mut values = fault.values.clone();
        for (variable, value) in &mut values {
            *value = set_at(graph, node, *variable).unwrap_or(*value);
        }
        let stands = standing(graph, &values);
        let reading = read.unwrap_or_default();
        found.add(&states::UnsafeWait { limit: limit.span, rule, said, reading, stands, path });
        return;
    }
    let odd = fault.values.iter().find(|(id, value)| graph.variable(**id).normal != **value);
    let since = odd.and_then(|(id, _)| last_writer(graph, &fault.trail, *id));
    let referred = matches!(here.kind, NodeKind::End(locknut_graph::End::Refer { .. }));
    found.add(&states::UnsafeStop {
        end: here.span,
        rule,
        said,
        stands: standing(graph, &fault.values),
        since: since.map(|at| graph.node(at).span),
        how: if referred { "be broken off" } else { "stop" },
        path,
    });
}

fn assertion_failed(
    graph: &StepGraph,
    fault: &Fault<'_>,
    node: NodeId,
    assertion: &Assertion,
    more: usize,
    found: &mut Findings,
) {
    let act = graph.node(node).span;
    let stands = standing(graph, &fault.values);
    let path = fault.path.clone();
    let wanted_words = assertion.written.clone();
    if !matches!(assertion.because, Because::MadeSo) && !matches!(fault.lack, Lack::Value) {
        let because = if let Because::Never { because } = &assertion.because {
            Some(because.written())
        } else {
            None
        };
        lacking(graph, fault, Some(act), assertion.span, because, found);
        return;
    }
    match &assertion.because {
        Because::Needs => found.add(&states::NeedUnmet {
            act,
            need: assertion.span,
            wanted: wanted_words,
            stands,
            more,
            path,
        }),
        Because::Element { thing } => found.add(&hardware::WrongStateForAct {
            act,
            thing: thing.said.clone(),
            wanted: wanted_words,
            stands,
            since: wanted(&assertion.condition, &fault.values)
                .and_then(|(variable, _)| written_at(graph, fault, variable)),
            path,
        }),
        Because::Relation { thing, other, .. } => found.add(&hardware::InTheWay {
            act,
            thing: thing.said.clone(),
            other: other.said.clone(),
            wanted: wanted_words,
            stands,
            path,
        }),
        Because::SingleUse { part } => found.add(&hardware::SingleUseAgain {
            act,
            part: part.said.clone(),
            verb_fix: part.name.clone(),
            were_slack: matches!(&fault.duty, Duty::Assertion { node, .. }
                if graph.node(*node).act().is_some_and(|act| act.tightening.is_some())),
            path,
        }),
        Because::Sealed { part, because, otherwise } => found.add(&hardware::SealedTouched {
            act,
            part: part.said.clone(),
            because: because.written(),
            otherwise: otherwise.clone(),
        }),
        Because::Lock { lock } => found.add(&states::Locked {
            act,
            lock: lock.said.clone(),
            at: graph
                .variables
                .iter()
                .position(|variable| variable.words.name == lock.name)
                .and_then(|at| u16::try_from(at).ok())
                .and_then(|at| written_at(graph, fault, VariableId(at))),
            path,
        }),
        Because::Dead { thing } => found.add(&hardware::LiveConnector {
            act,
            thing: thing.said.clone(),
            wanted: wanted_words,
            stands,
            path,
        }),
        Because::Never { because } => found.add(&states::ForbiddenAct {
            act,
            rule: assertion.span,
            written: wanted_words,
            because: because.written(),
            stands,
            path,
        }),
        Because::StartsWith { subtask } => found.add(&states::NotReadyForSubtask {
            call: act,
            starts: assertion.span,
            subtask: subtask.clone(),
            wanted: wanted_words,
            stands,
            path,
        }),
        Because::MadeSo => {
            let want = wanted(&assertion.condition, &fault.values);
            found.add(&states::ProvedTooEarly {
                act,
                variable: want
                    .map(|(id, _)| graph.variable(id).words.said.clone())
                    .unwrap_or_default(),
                wanted: want.map(|(id, value)| said(graph, id, value)).unwrap_or_default(),
                stands,
                path,
            });
        }
        Because::Hands { who, thing } => found.add(&people::HandsTaken {
            act,
            hold: assertion.span,
            who: who.as_ref().map(|who| who.said.clone()),
            thing: thing.said.clone(),
            more,
            path,
        }),
        Because::Change { state } => found.add(&states::WrongChange {
            act,
            rule: assertion.span,
            state: state.said.clone(),
            wanted: Some(wanted_words).filter(|_| assertion.condition != Condition::Always(false)),
            stands,
            path,
        }),
        Because::Oiled { thing } => found.add(&hardware::NotOiled {
            act,
            thing: thing.said.clone(),
            name: thing.name.clone(),
            path,
        }),
    }
}

/// Where somebody waits, and for what.
fn waits(graph: &StepGraph, node: NodeId) -> Option<(Span, String)> {
    let NodeKind::Await(condition) = &graph.node(node).kind else { return None };
    let tests = condition.tests();
    let (variable, value) = tests.into_iter().find_map(|test| match test {
        Test::Is { variable, values, .. } => Some((*variable, *values.first()?)),
        Test::Proved { .. } | Test::Held { .. } | Test::Within { .. } => None,
    })?;
    let written = |at: &NodeId| {
        let set = locknut_graph::Effect::Set { variable, value };
        graph.node(*at).effects.contains(&set)
    };
    // A hold ends with a step: that step is what is waited for.
    let step = graph.flow.node_indices().find(written).and_then(|at| graph.node(at).step);
    let until = match (&graph.variable(variable).kind, step) {
        (VariableKind::Hold { .. }, Some(step)) if value != 1 => {
            format!("step {} is done", graph.step(step).number)
        }
        _ => value_words(graph, variable, value),
    };
    Some((graph.node(node).span, until))
}

/// A proof or a time is lacking, not a value.
fn lacking(
    graph: &StepGraph,
    fault: &Fault<'_>,
    act: Option<Span>,
    asked: Span,
    because: Option<String>,
    found: &mut Findings,
) {
    match &fault.lack {
        Lack::Value => {}
        Lack::Proof(variable, value) => found.add(&states::NotProved {
            act,
            asked,
            variable: graph.variable(*variable).words.said.clone(),
            value: said(graph, *variable, *value),
            proves: format!(
                "proves {} is {}",
                graph.variable(*variable).words.name,
                value_name(graph, *variable, *value)
            ),
            path: fault.path.clone(),
            because,
        }),
        Lack::Time { variable, waited, wanted } => {
            let value = fault.values.get(variable).copied().unwrap_or_default();
            found.add(&states::WaitTooShort {
                act,
                asked,
                variable: graph.variable(*variable).words.said.clone(),
                value: said(graph, *variable, value),
                waited: time_words(waited),
                wanted: time_words(wanted),
                set_at: written_at(graph, fault, *variable),
                because,
                path: fault.path.clone(),
            });
        }
        Lack::Upper { variable, limit, span } => {
            let value = fault.values.get(variable).copied().unwrap_or_default();
            found.add(&states::NoUpperLimit {
                at: act,
                asked: *span,
                variable: graph.variable(*variable).words.said.clone(),
                value: said(graph, *variable, value),
                limit: time_words(limit),
                set_at: written_at(graph, fault, *variable).filter(|set| Some(*set) != act),
                because,
                path: fault.path.clone(),
            });
        }
    }
}

fn not_restored(graph: &StepGraph, fault: &Fault<'_>, restore: &Restore, found: &mut Findings) {
    let declared = graph.variable(restore.variable);
    let value = fault.values.get(&restore.variable).copied().unwrap_or_default();
    let want = restore.values.first().copied().unwrap_or(declared.normal);
    let written_at = written_at(graph, fault, restore.variable).unwrap_or(restore.span);
    let (name, value_name) =
        (declared.words.name.clone(), value_name(graph, restore.variable, value));
    let (stands, normal) =
        (said(graph, restore.variable, value), said(graph, restore.variable, want));
    let path = fault.path.clone();
    match declared.kind {
        VariableKind::Tool => {
            found.add(&hardware::ToolLeftIn {
                written_at,
                tool: declared.words.said.clone(),
                name,
                path,
            });
        }
        VariableKind::Element { .. } => found.add(&hardware::LeftUndone {
            verb: declared.is_or_are(),
            written_at,
            thing: declared.words.said.clone(),
            stands,
            normal,
            name,
            value_name,
            path,
        }),
        VariableKind::Hold { ref by, ref thing } => found.add(&people::NeverLetGo {
            hold: restore.span,
            end: fault.node.map_or(restore.span, |node| graph.node(node).span),
            who: by.said.clone(),
            thing: thing.said.clone(),
            path,
        }),
        VariableKind::Inspection { ref by, ref thing } => found.add(&people::NotInspected {
            work: written_at,
            declared: restore.span,
            who: by.said.clone(),
            thing: thing.said.clone(),
            path,
        }),
        VariableKind::State
        | VariableKind::Series
        | VariableKind::Serial { .. }
        | VariableKind::Observation
        | VariableKind::Unknown { .. } => {
            found.add(&states::NotRestored {
                written_at,
                owed: restore.span,
                variable: declared.words.said.clone(),
                stands,
                normal,
                name,
                value_name,
                path,
            });
        }
    }
}

fn written_at(graph: &StepGraph, fault: &Fault<'_>, variable: VariableId) -> Option<Span> {
    last_writer(graph, &fault.trail, variable).map(|node| graph.node(node).span)
}

fn subtask(graph: &StepGraph, node: NodeId) -> String {
    if let NodeKind::Leave { subtask, .. } | NodeKind::Enter { subtask, .. } =
        &graph.node(node).kind
    {
        subtask.clone()
    } else {
        String::new()
    }
}

fn said(graph: &StepGraph, variable: VariableId, value: u8) -> String {
    let all = value_words(graph, variable, value);
    let name = &graph.variable(variable).words.said;
    all.strip_prefix(name.as_str()).map(|rest| rest.trim().to_owned()).unwrap_or(all)
}

fn value_name(graph: &StepGraph, variable: VariableId, value: u8) -> String {
    let declared = graph.variable(variable);
    declared
        .values
        .get(usize::from(value))
        .map(|value| value.words.name.clone())
        .unwrap_or_default()
}
