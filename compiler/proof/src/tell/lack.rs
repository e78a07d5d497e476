//! Why a condition fails where its values may be right: a proof or a time is lacking.

use super::{said, value_name, written_at};
use crate::engine::System;
use crate::states;
use crate::walk::Fault;
use crate::words::time_words;
use locknut_finding::{Findings, Span};
use locknut_graph::{Condition, StepGraph, Test, VariableId};

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

/// A proof or a time is lacking, not a value.
pub(super) fn lacking(
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
