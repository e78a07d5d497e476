//! What a `when` found, in words.

use crate::words::time_words;
use locknut_graph::{Condition, StepGraph, Test, VariableId, VariableKind};

/// `series B`, `plug: pulled out`, `gap at most 2 mm`: what is so where a condition holds, or does not.
pub(crate) fn decided(graph: &StepGraph, condition: &Condition, so: bool) -> String {
    match condition {
        Condition::Always(_) => "in any case".to_owned(),
        Condition::Not(inner) => decided(graph, inner, !so),
        Condition::All(parts) | Condition::Any(parts) => {
            let all = matches!(condition, Condition::All(_)) == so;
            // In brackets: nobody may read `A and (B or C)` as `(A and B) or C`.
            let one = |part: &Condition| {
                let said = decided(graph, part, so);
                if joined(part) { format!("({said})") } else { said }
            };
            let parts: Vec<String> = parts.iter().map(one).collect();
            parts.join(if all { " and " } else { " or " })
        }
        Condition::Test(test) => tested(graph, test, so),
    }
}

fn joined(condition: &Condition) -> bool {
    match condition {
        Condition::All(parts) | Condition::Any(parts) => parts.len() > 1,
        Condition::Not(inner) => joined(inner),
        Condition::Always(_) | Condition::Test(_) => false,
    }
}

fn tested(graph: &StepGraph, test: &Test, so: bool) -> String {
    let not = if so { "" } else { "not " };
    match test {
        Test::Is { variable, values, .. } => {
            let values = if so { values.clone() } else { others(graph, *variable, values) };
            format!("{}{}", subject(graph, *variable), named(graph, *variable, &values))
        }
        Test::Proved { variable, values, .. } => {
            let value = named(graph, *variable, values);
            format!("{}{not}proved {value}", subject(graph, *variable))
        }
        Test::Held { variable, values, seconds, under, .. } => {
            let value = named(graph, *variable, values);
            let under = if *under { "under " } else { "" };
            let time = time_words(seconds);
            format!("{}{not}{value} for {under}{time}", subject(graph, *variable))
        }
        Test::Within { written, .. } => format!("{not}{written}"),
    }
}

/// `series T`, `serial number from 2044`
pub(crate) fn told(graph: &StepGraph, variable: VariableId, values: &[u8]) -> String {
    format!("{}{}", subject(graph, variable), named(graph, variable, values))
}

fn subject(graph: &StepGraph, variable: VariableId) -> String {
    let declared = graph.variable(variable);
    match declared.kind {
        VariableKind::Series => "series ".to_owned(),
        VariableKind::Serial { .. } => "serial number ".to_owned(),
        VariableKind::State
        | VariableKind::Element { .. }
        | VariableKind::Tool
        | VariableKind::Observation
        | VariableKind::Hold { .. }
        | VariableKind::Inspection { .. }
        | VariableKind::Unknown { .. }
        | VariableKind::Denied { .. }
        | VariableKind::DeniedTime { .. } => format!("{}: ", declared.words.said),
    }
}

fn named(graph: &StepGraph, variable: VariableId, values: &[u8]) -> String {
    let declared = &graph.variable(variable).values;
    if let VariableKind::Serial { stretches } = &graph.variable(variable).kind {
        return joined_up(stretches, values).join(" or ");
    }
    let named = values.iter().filter_map(|value| declared.get(usize::from(*value)));
    named.map(|value| value.words.said.clone()).collect::<Vec<_>>().join(" or ")
}

/// Stretches of numbers that go on from one to the next are one stretch.
fn joined_up(stretches: &[(Option<u64>, Option<u64>)], values: &[u8]) -> Vec<String> {
    let mut joined: Vec<(u8, u8)> = Vec::new();
    for value in values {
        match joined.last_mut() {
            Some((_, last)) if last.checked_add(1) == Some(*value) => *last = *value,
            _ => joined.push((*value, *value)),
        }
    }
    let at = |value: u8| stretches.get(usize::from(value));
    let ends = joined.into_iter().filter_map(|(first, last)| Some((at(first)?.0, at(last)?.1)));
    let said = ends.map(|ends| match ends {
        (None, None) => "any".to_owned(),
        (Some(from), None) => format!("from {from}"),
        (None, Some(to)) => format!("to {to}"),
        (Some(from), Some(to)) if from == to => from.to_string(),
        (Some(from), Some(to)) => format!("{from} .. {to}"),
    });
    said.collect()
}

/// The values that it may have otherwise; of a machine's variant, those that the procedure is for.
fn others(graph: &StepGraph, variable: VariableId, values: &[u8]) -> Vec<u8> {
    let declared = graph.variable(variable);
    let of_machine = matches!(declared.kind, VariableKind::Series | VariableKind::Serial { .. });
    let starts = graph.starts.iter().find(|(id, _)| *id == variable && of_machine);
    let possible = |value: &u8| starts.is_none_or(|(_, starts)| starts.contains(value));
    let all = (0u8..).zip(&declared.values).map(|(value, _)| value);
    all.filter(|value| !values.contains(value)).filter(possible).collect()
}
