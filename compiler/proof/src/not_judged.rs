//! What a procedure declares or comes to, and nothing could judge.

use crate::sums;
use locknut_graph::{Effect, StepGraph, VariableId, VariableKind};
use std::collections::BTreeSet;

/// Each in words, in the order of the lines.
pub fn not_judged(graph: &StepGraph) -> Vec<String> {
    let of_sums = sums::not_judged(graph).into_iter().map(|one| one.what);
    of_sums.chain(left_in_doubt(graph)).collect()
}

/// Where only a state that a reading denies would make the machine safe to leave.
fn left_in_doubt(graph: &StepGraph) -> Vec<String> {
    let mut told = BTreeSet::new();
    let states = graph.left_in_doubt.iter().map(|(_, state)| *state);
    let states = states.filter(|state| told.insert(*state));
    let said = |state: VariableId| {
        let denies = denied_by(graph, state).join(" or ");
        let state = &graph.variable(state).words.said;
        format!(
            "whether the machine is safe to leave where the job stops because {denies} denies how {state} stands"
        )
    };
    states.map(said).collect()
}

/// The readings that may deny how a state stands.
fn denied_by(graph: &StepGraph, state: VariableId) -> Vec<&str> {
    let denies = |effect: &Effect| {
        matches!(effect, Effect::Set { variable, value: 1 }
            if graph.variable(*variable).kind == VariableKind::Denied { of: state })
    };
    let nodes = graph.flow.node_indices();
    let readings = nodes.filter_map(|node| {
        let reading = graph.node(node).act()?.kind.reading()?;
        let mut effects = graph.ways(node).into_iter().flat_map(|(_, edge, _)| &edge.effects);
        effects.any(denies).then(|| graph.reading(reading).words.said.as_str())
    });
    let mut told = BTreeSet::new();
    readings.filter(|reading| told.insert(*reading)).collect()
}
