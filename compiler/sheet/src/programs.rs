//! What a program says beside the lines: how the machine may stand, and how the job ends, in the reader's language.

use crate::places::variable_name;
use crate::sheet::{Asked, Said, StateWords};
use crate::words::Speaker;
use locknut_graph::{Effect, End, NodeId, NodeKind, VariableId, VariableKind};
use std::collections::BTreeMap;

/// What of the machine some line asks for, to be answered before work begins.
pub(crate) fn asked(speak: Speaker<'_>) -> Vec<Asked> {
    let mut all = Vec::new();
    for (id, variable) in (0u16..).map(VariableId).zip(&speak.graph.variables) {
        let allowed = speak.graph.starts.iter().find(|(of, _)| *of == id).map(|(_, values)| values);
        match &variable.kind {
            VariableKind::Series => {
                let values = (0u8..).zip(&variable.values);
                let values = values.filter(|(at, _)| allowed.is_none_or(|some| some.contains(at)));
                let answers: Vec<String> =
                    values.map(|(_, value)| value.words.said.clone()).collect();
                if answers.len() > 1 {
                    let label = speak.phrases.label("label-which-series");
                    all.push(Asked { label, answers });
                }
            }
            VariableKind::Serial { .. } => all.push(Asked {
                label: speak.phrases.label("label-which-serial"),
                answers: Vec::new(),
            }),
            VariableKind::State
            | VariableKind::Element { .. }
            | VariableKind::Tool
            | VariableKind::Observation
            | VariableKind::Hold { .. }
            | VariableKind::Inspection { .. }
            | VariableKind::Unknown { .. }
            | VariableKind::Denied { .. }
            | VariableKind::DeniedTime { .. } => {}
        }
    }
    all
}

/// The words of whatever of the machine may come to stand otherwise than normal.
pub(crate) fn states(speak: Speaker<'_>) -> BTreeMap<VariableId, StateWords> {
    let all = (0u16..).map(VariableId).zip(&speak.graph.variables);
    let moved = |id: VariableId, normal: u8| {
        let starts = |(of, values): &(VariableId, Vec<u8>)| *of == id && *values != [normal];
        let set = |effect: &Effect| effect.sets(id).is_some();
        speak.graph.effects().any(set) || speak.graph.starts.iter().any(starts)
    };
    all.filter(|(id, variable)| variable.kind.of_machine() && moved(*id, variable.normal))
        .map(|(id, variable)| {
            let of = variable.kind.element().unwrap_or(&variable.words.name);
            let value = |value: &locknut_graph::Value| speak.phrases.value(of, &value.words);
            let values = variable.values.iter().map(value).collect();
            (id, StateWords { name: variable_name(speak, variable), values })
        })
        .collect()
}

/// The roles of the crew.
pub(crate) fn roles(speak: Speaker<'_>) -> BTreeMap<String, String> {
    let crew = speak.graph.heading.crew.iter();
    crew.map(|role| (role.name.clone(), speak.phrases.name(role))).collect()
}

/// What is said where the job stops, with places for readings.
pub(crate) fn ends(speak: Speaker<'_>) -> BTreeMap<NodeId, Vec<Said>> {
    let nodes = speak.graph.flow.node_indices();
    let said = nodes.filter_map(|node| match &speak.graph.node(node).kind {
        NodeKind::End(End::Stop { text: prose } | End::Refer { to: prose }) => {
            Some((node, speak.with_readings(prose)))
        }
        NodeKind::End(End::Done)
        | NodeKind::Act(_)
        | NodeKind::Pass
        | NodeKind::Branch(_)
        | NodeKind::AnyOrder { .. }
        | NodeKind::ChildDone { .. }
        | NodeKind::Together { .. }
        | NodeKind::LaneDone { .. }
        | NodeKind::Await(_)
        | NodeKind::Repeat(_)
        | NodeKind::Enter { .. }
        | NodeKind::Leave { .. } => None,
    });
    said.collect()
}
