//! Faults → findings: which struct of facts a failed duty fills.

mod asserted;
mod cause;
mod ended;
mod lack;

pub(crate) use lack::{Lack, lack};

use crate::calls::Calls;
use crate::duty::Duty;
use crate::race::{Race, race};

use crate::states::Beside;
use crate::walk::Fault;
use crate::words::{last_writer, places, standing, value_words};
use crate::{mends, people, readings, states};
use asserted::assertion_failed;
use cause::{cause, early_end, follows, on_sealed, second_round, which};
use ended::{not_restored, not_safe};
use lack::lacking;
use locknut_finding::{Call, Findings, Span};
use locknut_graph::{
    Condition, NodeId, NodeKind, StepGraph, Test, Variable, VariableId, VariableKind,
};
use std::collections::btree_map::Entry;
use std::collections::{BTreeMap, BTreeSet};

/// Tells every fault; those that ask for the same thing for the same reason are told once, where the
/// path is shortest, and counted.
pub(crate) fn tell(graph: &StepGraph, faults: &[Fault<'_>], found: &mut Findings) {
    if faults.is_empty() {
        return;
    }
    // Whatever else is wrong with an act on a sealed part, it must not be done at all.
    let sealed: BTreeSet<NodeId> = faults.iter().filter_map(on_sealed).collect();
    let of_sealed = |fault: &&Fault<'_>| {
        on_sealed(fault).is_some() || fault.node.is_none_or(|node| !sealed.contains(&node))
    };
    let own = faults.iter().filter(of_sealed).filter(|fault| !follows(graph, fault, faults));
    let mut by_length: Vec<&Fault<'_>> = own.collect();
    let mut more: BTreeMap<String, usize> = BTreeMap::new();
    let mut apart: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for fault in &by_length {
        let cause = cause(graph, fault);
        *more.entry(cause.clone()).or_default() += 1 + fault.alike.len();
        if race(graph, fault).is_none() {
            apart.entry(cause).or_default().extend(which(fault));
        }
    }
    by_length.sort_by_key(|fault| fault.trail.len());
    let mut left: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for fault in &by_length {
        if let Duty::Restore { restore, .. } = &fault.duty {
            let value = fault.values.get(&restore.variable).copied().unwrap_or_default();
            let words = value_words(graph, restore.variable, value);
            left.entry(cause(graph, fault)).or_default().push(words);
        }
    }
    let mut told = BTreeSet::new();
    let calls = Calls::of(graph);
    let mut done_by = done_by(&calls, &by_length);
    for fault in by_length {
        let cause = cause(graph, fault);
        let others = more.get(&cause).copied().unwrap_or(1) - 1;
        let again = apart.get(&cause).map_or(0, |apart| apart.len().saturating_sub(1));
        if told.insert(cause.clone()) {
            one(graph, fault, others, found);
            found.propose(mends::proposals(&calls, fault));
            found.done_by(done_by.remove(&cause).unwrap_or_default());
            remarks(graph, fault, left.get(&cause).map_or(&[], Vec::as_slice), found);
            if again > 0 && early(graph, fault).is_none() {
                found.remark(&format!("the same is so elsewhere: {}", places(again)));
            }
        }
    }
}

/// By which lines the subtasks are done in which faults of one cause stand; none where one of them stands in none.
fn done_by(calls: &Calls<'_>, faults: &[&Fault<'_>]) -> BTreeMap<String, BTreeSet<Call>> {
    let graph = calls.graph;
    let mut all: BTreeMap<String, BTreeSet<Call>> = BTreeMap::new();
    for fault in faults {
        let own = calls.of_fault(fault);
        match all.entry(cause(graph, fault)) {
            Entry::Vacant(free) => drop(free.insert(own)),
            Entry::Occupied(mut known) if own.is_empty() => known.get_mut().clear(),
            Entry::Occupied(mut known) if !known.get().is_empty() => known.get_mut().extend(own),
            Entry::Occupied(_) => {}
        }
    }
    all
}

fn early(graph: &StepGraph, fault: &Fault<'_>) -> Option<NodeId> {
    let Duty::Restore { restore, .. } = &fault.duty else { return None };
    early_end(graph, fault, restore)
}

/// What an author has to know besides: that the job came back to a line, or was ended in an arm.
fn remarks(graph: &StepGraph, fault: &Fault<'_>, left: &[String], found: &mut Findings) {
    if second_round(fault).is_some() {
        found.remark(
            "the first time it was right: the `repeat` goes back too far, or what was done since has to be undone ahead of it",
        );
    }
    if let Some(done) = early(graph, fault) {
        found.mark(graph.node(done).span, "this ends the whole job");
        found.remark("`done` in this arm ends the whole job: what stands behind it, or is under way beside it, is not done");
        if let [_, others @ ..] = left
            && !others.is_empty()
        {
            found.remark(&format!("left so by it, too: {}", others.join(", ")));
        }
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
                    unknown: unknown_at(graph, &interlock.holds),
                    beside: race(graph, fault).map(|race| beside(graph, race)),
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
                name: own_name(graph, *node, &declared.words.name),
                value_name: value_name(graph, *variable, value),
                path: fault.path.clone(),
            });
        }
        Duty::Leaves { restore, .. } if !matches!(fault.lack, Lack::Value) => {
            lacking(graph, fault, None, restore.span, None, found);
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

/// Where it is said that nobody knows how something in a condition stands at the start.
fn unknown_at(graph: &StepGraph, condition: &Condition) -> Option<Span> {
    let asked = condition.variables();
    let unknown = |variable: &&Variable| matches!(variable.kind, VariableKind::Unknown { of } if asked.contains(&of));
    graph.variables.iter().find(unknown).map(|variable| variable.span)
}

/// The words of the source that leave the order open.
fn beside(graph: &StepGraph, race: Race) -> Beside {
    let block = graph.node(race.block()).span;
    match race {
        Race::Lanes(_) => Beside::Lanes(block),
        Race::Freed(_) => Beside::Freed(block),
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

/// The name by which a subtask that ends at a node says it: done at a point, it leaves the point out.
fn own_name(graph: &StepGraph, node: NodeId, name: &str) -> String {
    let NodeKind::Leave { at: Some(point), .. } = &graph.node(node).kind else {
        return name.to_owned();
    };
    let at = format!(" at {point}");
    name.strip_suffix(at.as_str()).unwrap_or(name).to_owned()
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
