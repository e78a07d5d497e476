//! What must hold just before an act, and does not.

use super::lack::{Lack, lacking};
use super::{said, written_at};
use crate::walk::Fault;
use crate::words::{last_writer, standing, wanted};
use crate::{hardware, people, states};
use locknut_finding::{Findings, Span};
use locknut_graph::{Assertion, Because, Condition, End, NodeId, NodeKind, StepGraph, VariableId};

pub(super) fn assertion_failed(
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
    if !matches!(assertion.because, Because::MadeSo | Because::Denied { .. })
        && !matches!(fault.lack, Lack::Value)
    {
        let because = if let Because::Never { because } = &assertion.because {
            Some(because.written())
        } else {
            None
        };
        lacking(graph, fault, Some(act), assertion.span, because, found);
        return;
    }
    match &assertion.because {
        Because::Denied { states } => {
            let denied = |own: &VariableId| fault.values.get(own).is_some_and(|value| *value != 0);
            let states = || states.iter().filter(|(_, own)| denied(own));
            let denied_at = states().find_map(|(_, own)| last_writer(graph, &fault.trail, *own));
            let states: Vec<_> =
                states().map(|(state, _)| graph.variable(*state).words.said.clone()).collect();
            let kind = &graph.node(node).kind;
            let counts = if matches!(kind, NodeKind::End(End::Stop { .. } | End::Refer { .. })) {
                states::Counts::Stop
            } else if matches!(kind, NodeKind::End(End::Done) | NodeKind::Leave { .. }) {
                states::Counts::HandsOver
            } else {
                states::Counts::Act
            };
            found.add(&states::CountsOnDenied {
                act: assertion.span,
                denied_at: denied_at.map(|node| reading_at(graph, node)),
                state: states.join(" and "),
                counts,
                wanted: wanted_words,
                path,
            });
        }
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
            since: since(graph, fault, assertion, act),
            path,
        }),
        Because::OneTool { tool, here, still_in } => found.add(&hardware::OneTool {
            act,
            tool: tool.said.clone(),
            here: here.iter().map(|one| one.said.clone()).collect(),
            still_in: still_in.as_ref().map(|one| one.said.clone()),
            wanted: wanted_words,
            since: since(graph, fault, assertion, act),
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
            how: again(graph, node, assertion),
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
        Because::Oiled { thing, condition, by } => found.add(&hardware::NotOiled {
            act,
            thing: thing.said.clone(),
            name: thing.name.clone(),
            condition: condition.clone(),
            by: by.clone(),
            path,
        }),
    }
}

/// The line by which what an act asks for came to be otherwise; in a second round it was the act's own.
fn since(graph: &StepGraph, fault: &Fault<'_>, assertion: &Assertion, act: Span) -> Option<Span> {
    let (variable, _) = wanted(&assertion.condition, &fault.values)?;
    written_at(graph, fault, variable).filter(|since| *since != act)
}

/// The name of what is read at a node, rather than all of its line.
fn reading_at(graph: &StepGraph, node: NodeId) -> Span {
    let reading = graph.node(node).act().and_then(|act| act.kind.reading());
    reading.map_or(graph.node(node).span, |reading| graph.reading(reading).span)
}

/// How what may be used once only is used again there.
fn again(graph: &StepGraph, node: NodeId, assertion: &Assertion) -> hardware::Again {
    let act = graph.node(node).act();
    if act.is_none_or(|act| act.tightening.is_none()) {
        hardware::Again::Fitted
    } else if matches!(assertion.condition, Condition::Always(_)) {
        hardware::Again::Tight
    } else {
        hardware::Again::Slackened
    }
}
