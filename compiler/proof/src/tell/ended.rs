//! What is not as it must be where the job ends or may be left.

use super::lack::{Lack, lacking};
use super::{said, value_name, written_at};
use crate::duty::set_at;
use crate::leave::Unsafe;
use crate::walk::Fault;
use crate::words::{last_writer, standing};
use crate::{hardware, people, states};
use locknut_finding::Findings;
use locknut_graph::{NodeId, NodeKind, Restore, StepGraph, VariableKind};

pub(super) fn not_safe(graph: &StepGraph, fault: &Fault<'_>, node: NodeId, found: &mut Findings) {
    if let Lack::Upper { .. } = &fault.lack {
        lacking(graph, fault, Some(graph.node(node).span), graph.safe_to_leave.1, None, found);
        return;
    }
    let path = fault.path.clone();
    let here = graph.node(node);
    if let Some((act, limit)) = here.act().and_then(|act| Some((act, act.waits_undecided()?))) {
        let read = act.kind.reading().map(|reading| graph.reading(reading).words.said.clone());
        let mut values = fault.values.clone();
        for (variable, value) in &mut values {
            *value = set_at(graph, node, *variable).unwrap_or(*value);
        }
        let not_so = Unsafe::of(graph, &values);
        let stands = standing(graph, &not_so.stands(&values));
        let (rules, reading) = (not_so.rules, read.unwrap_or_default());
        found.add(&states::UnsafeWait { limit: limit.span, rules, reading, stands, path });
        return;
    }
    let not_so = Unsafe::of(graph, &fault.values);
    let values = not_so.stands(&fault.values);
    let odd = values.iter().find(|(id, value)| graph.variable(**id).normal != **value);
    let since = odd.and_then(|(id, _)| last_writer(graph, &fault.trail, *id));
    let referred = matches!(here.kind, NodeKind::End(locknut_graph::End::Refer { .. }));
    found.add(&states::UnsafeStop {
        end: here.span,
        rules: not_so.rules,
        stands: standing(graph, &values),
        since: since.map(|at| graph.node(at).span),
        how: if referred { "be broken off" } else { "stop" },
        path,
    });
}

pub(super) fn not_restored(
    graph: &StepGraph,
    fault: &Fault<'_>,
    restore: &Restore,
    found: &mut Findings,
) {
    if !matches!(fault.lack, Lack::Value) {
        lacking(graph, fault, None, restore.span, None, found);
        return;
    }
    let declared = graph.variable(restore.variable);
    let value = fault.values.get(&restore.variable).copied().unwrap_or_default();
    let want = restore.values.first().copied().unwrap_or(declared.normal);
    let set_at = written_at(graph, fault, restore.variable);
    let written_at = set_at.unwrap_or(restore.span);
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
            when: crate::mends::changed_in_when(graph, fault, restore.variable).is_some(),
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
            role: by.name.clone(),
            who: by.said.clone(),
            thing: thing.said.clone(),
            path,
        }),
        VariableKind::State
        | VariableKind::Series
        | VariableKind::Serial { .. }
        | VariableKind::Observation
        | VariableKind::Unknown { .. }
        | VariableKind::Denied { .. }
        | VariableKind::DeniedTime { .. } => {
            found.add(&states::NotRestored {
                written_at: set_at,
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
