//! The whole document.

use crate::parts::{EffectData, NodeData, WayData, effect, node, ways};
use crate::value::{
    ConditionData, PieceData, QuantityData, RangeData, condition, exact, prose, quantity, range,
};
use locknut_graph::{Applies, ReadingKind, Restore, StepGraph, Variable, VariableKind};
use locknut_proof::Facts;
use locknut_quantity::{UnitId, Units};
use serde::Serialize;
use std::collections::BTreeMap;

/// A step graph as it is written on disk; see the schema.
#[derive(Clone, Debug, Serialize)]
pub struct Document {
    /// The version of this shape.
    pub(crate) format: &'static str,
    pub(crate) procedure: ProcedureData,
    pub(crate) units: BTreeMap<String, UnitData>,
    pub(crate) variables: Vec<VariableData>,
    pub(crate) starts: Vec<StartData>,
    pub(crate) readings: Vec<ReadingData>,
    pub(crate) instruments: Vec<InstrumentData>,
    pub(crate) tools: Vec<ToolData>,
    pub(crate) interlocks: Vec<InterlockData>,
    pub(crate) hazards: Vec<HazardData>,
    pub(crate) safe_to_leave: ConditionData,
    pub(crate) restore: Vec<RestoreData>,
    pub(crate) steps: Vec<StepData>,
    pub(crate) repeats: Vec<RepeatData>,
    pub(crate) start: usize,
    pub(crate) nodes: Vec<FlowData>,
    pub(crate) facts: FactsData,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct ProcedureData {
    pub(crate) name: String,
    pub(crate) title: Vec<PieceData>,
    pub(crate) model: String,
    pub(crate) publisher: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) revision: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) date: Option<String>,
    pub(crate) series: Vec<String>,
    pub(crate) serial: Vec<(Option<u64>, Option<u64>)>,
    pub(crate) crew: Vec<String>,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct UnitData {
    pub(crate) kind: String,
    pub(crate) factor: String,
    pub(crate) zero: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) counterpart: Option<String>,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct VariableData {
    pub(crate) name: String,
    pub(crate) said: String,
    pub(crate) is: &'static str,
    pub(crate) values: Vec<String>,
    pub(crate) normal: u8,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(crate) stretches: Vec<(Option<u64>, Option<u64>)>,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct StartData {
    pub(crate) variable: u16,
    pub(crate) values: Vec<u8>,
    pub(crate) proved: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) held: Option<String>,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct ReadingData {
    pub(crate) name: String,
    pub(crate) said: String,
    #[serde(flatten)]
    pub(crate) kind: ReadingKindData,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(crate) points: Vec<String>,
    /// Where the lines around are done: another reading of its name is taken elsewhere.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(crate) at: Vec<String>,
}

#[derive(Clone, Debug, Serialize)]
#[serde(tag = "is", rename_all = "kebab-case")]
pub(crate) enum ReadingKindData {
    Quantity {
        kind: String,
        unit: String,
        decimals: u32,
    },
    Answer {
        answers: Vec<String>,
        #[serde(skip_serializing_if = "Option::is_none")]
        variable: Option<u16>,
    },
    Serial,
    Date,
    Text,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct InstrumentData {
    pub(crate) name: String,
    pub(crate) said: String,
    pub(crate) applies: bool,
    /// It shows no figures, only whether `range` is kept.
    pub(crate) one_limit: bool,
    pub(crate) kind: String,
    pub(crate) unit: String,
    pub(crate) range: RangeData,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) resolution: Option<QuantityData>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) error: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) calibrate_months: Option<u32>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) proved_on: Option<Vec<PieceData>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) template: Option<String>,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct ToolData {
    pub(crate) name: String,
    pub(crate) said: String,
    pub(crate) special: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) number: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) template: Option<String>,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct InterlockData {
    pub(crate) holds: ConditionData,
    pub(crate) written: String,
    pub(crate) because: Vec<PieceData>,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct HazardData {
    pub(crate) signal: &'static str,
    pub(crate) text: Vec<PieceData>,
    #[serde(rename = "while")]
    pub(crate) condition: ConditionData,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct RestoreData {
    pub(crate) variable: u16,
    pub(crate) values: Vec<u8>,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct StepData {
    pub(crate) number: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) name: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) text: Option<Vec<PieceData>>,
    pub(crate) first: usize,
    pub(crate) do_not_leave: bool,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct RepeatData {
    pub(crate) step: u16,
    pub(crate) times: u32,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct FlowData {
    #[serde(flatten)]
    pub(crate) kind: NodeData,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) step: Option<u16>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(crate) effects: Vec<EffectData>,
    pub(crate) ways: Vec<WayData>,
}

#[derive(Clone, Debug, Serialize)]
pub(crate) struct FactsData {
    /// Hazard and the node it stands ahead of; none: the banner.
    pub(crate) hazards: Vec<(u16, Option<usize>)>,
    pub(crate) acts: usize,
    pub(crate) ends: usize,
    pub(crate) obligations: usize,
}

/// Builds the document of a graph.
pub fn document(graph: &StepGraph, facts: &Facts, units: &Units) -> Document {
    Document {
        format: "locknut step graph 2",
        procedure: procedure(graph, units),
        units: unit_table(units),
        variables: graph.variables.iter().map(variable).collect(),
        starts: starts(graph),
        readings: graph.readings.iter().map(|from| reading(from, units)).collect(),
        instruments: instruments(graph, units),
        tools: tools(graph),
        interlocks: graph
            .interlocks
            .iter()
            .map(|from| InterlockData {
                holds: condition(&from.holds, units),
                written: from.written.clone(),
                because: prose(&from.because, units),
            })
            .collect(),
        hazards: hazards(graph, units),
        safe_to_leave: condition(&graph.safe_to_leave.0, units),
        restore: graph.restore.iter().map(restore).collect(),
        steps: steps(graph, facts, units),
        repeats: graph
            .repeats
            .iter()
            .map(|from| RepeatData { step: from.step.0, times: from.times })
            .collect(),
        start: graph.start.index(),
        nodes: nodes(graph, units),
        facts: FactsData {
            hazards: facts
                .hazards
                .iter()
                .map(|place| (place.hazard.0, place.ahead_of.map(locknut_graph::NodeId::index)))
                .collect(),
            acts: facts.covered.acts,
            ends: facts.covered.ends,
            obligations: facts.covered.obligations,
        },
    }
}

fn procedure(graph: &StepGraph, units: &Units) -> ProcedureData {
    let heading = &graph.heading;
    let (revision, date) = heading.revision.clone().unzip();
    let mut series = Vec::new();
    let mut serial = Vec::new();
    for applies in &heading.applies {
        match applies {
            Applies::Series(these) => series.extend(these.iter().cloned()),
            Applies::Serial(from, to) => serial.push((*from, *to)),
        }
    }
    ProcedureData {
        name: heading.name.clone(),
        title: prose(&heading.title, units),
        model: heading.model_name.clone(),
        publisher: heading.publisher.clone(),
        revision,
        date: date.flatten(),
        series,
        serial,
        crew: heading.crew.iter().map(|role| role.name.clone()).collect(),
    }
}

/// Units by printed name; one that serves several kinds (°C) is told by `name kind`.
fn unit_table(units: &Units) -> BTreeMap<String, UnitData> {
    let mut table = BTreeMap::new();
    for (id, unit) in (0u16..).map(UnitId).zip(units.units()) {
        for kind in units.kinds_of(id) {
            let kind = units.kind(kind).name.clone();
            let data = UnitData {
                kind: kind.clone(),
                factor: exact(&unit.factor),
                zero: exact(&unit.zero),
                counterpart: unit.counterpart.map(|other| units.unit(other).name.clone()),
            };
            table.insert(format!("{} {kind}", unit.name).trim_start().to_owned(), data);
        }
    }
    table
}

pub(crate) fn restore(from: &Restore) -> RestoreData {
    RestoreData { variable: from.variable.0, values: from.values.clone() }
}

fn variable(from: &Variable) -> VariableData {
    let (is, stretches) = match &from.kind {
        VariableKind::State => ("state", Vec::new()),
        VariableKind::Element { .. } => ("element", Vec::new()),
        VariableKind::Tool => ("tool", Vec::new()),
        VariableKind::Series => ("series", Vec::new()),
        VariableKind::Serial { stretches } => ("serial", stretches.clone()),
        VariableKind::Observation => ("observation", Vec::new()),
        VariableKind::Hold { .. } => ("hold", Vec::new()),
        VariableKind::Inspection { .. } => ("inspection", Vec::new()),
        VariableKind::Unknown { .. } => ("unknown", Vec::new()),
        VariableKind::Denied { .. } | VariableKind::DeniedTime { .. } => ("denied", Vec::new()),
    };
    VariableData {
        name: from.words.name.clone(),
        said: from.words.said.clone(),
        is,
        values: from.values.iter().map(|value| value.words.name.clone()).collect(),
        normal: from.normal,
        stretches,
    }
}

fn starts(graph: &StepGraph) -> Vec<StartData> {
    let mut all: BTreeMap<u16, StartData> = BTreeMap::new();
    let normal = |variable: u16| StartData {
        variable,
        values: vec![graph.variables.get(usize::from(variable)).map_or(0, |found| found.normal)],
        proved: false,
        held: None,
    };
    for (variable, values) in &graph.starts {
        all.entry(variable.0).or_insert_with(|| normal(variable.0)).values.clone_from(values);
    }
    for variable in &graph.starts_proved {
        all.entry(variable.0).or_insert_with(|| normal(variable.0)).proved = true;
    }
    for (variable, seconds) in &graph.starts_held {
        all.entry(variable.0).or_insert_with(|| normal(variable.0)).held = Some(exact(seconds));
    }
    all.into_values().collect()
}

fn reading(from: &locknut_graph::Reading, units: &Units) -> ReadingData {
    ReadingData {
        name: from.words.name.clone(),
        said: from.words.said.clone(),
        kind: match &from.kind {
            ReadingKind::Quantity { kind, unit, decimals } => ReadingKindData::Quantity {
                kind: units.kind(*kind).name.clone(),
                unit: units.unit(*unit).name.clone(),
                decimals: *decimals,
            },
            ReadingKind::Answer { answers, variable } => ReadingKindData::Answer {
                answers: answers.iter().map(|answer| answer.name.clone()).collect(),
                variable: variable.map(|id| id.0),
            },
            ReadingKind::Serial => ReadingKindData::Serial,
            ReadingKind::Date => ReadingKindData::Date,
            ReadingKind::Text => ReadingKindData::Text,
        },
        points: from.points.iter().map(|point| point.said.clone()).collect(),
        at: from.at.iter().map(|point| point.said.clone()).collect(),
    }
}

fn instruments(graph: &StepGraph, units: &Units) -> Vec<InstrumentData> {
    graph
        .instruments
        .iter()
        .map(|from| InstrumentData {
            name: from.words.name.clone(),
            said: from.words.said.clone(),
            applies: from.applies,
            one_limit: from.one_limit,
            kind: units.kind(from.kind).name.clone(),
            unit: units.unit(from.unit).name.clone(),
            range: range(&from.range),
            resolution: from.resolution.as_ref().map(|step| quantity(step, units)),
            error: from.error.as_ref().map(|error| error.written.clone()),
            calibrate_months: from.calibrate_months,
            proved_on: from.proved_on.as_ref().map(|text| prose(text, units)),
            template: from.template.as_ref().map(|words| words.name.clone()),
        })
        .collect()
}

fn tools(graph: &StepGraph) -> Vec<ToolData> {
    graph
        .tools
        .iter()
        .map(|from| ToolData {
            name: from.words.name.clone(),
            said: from.words.said.clone(),
            special: from.special,
            number: from.number.clone(),
            template: from.template.as_ref().map(|words| words.name.clone()),
        })
        .collect()
}

fn hazards(graph: &StepGraph, units: &Units) -> Vec<HazardData> {
    graph
        .hazards
        .iter()
        .map(|from| HazardData {
            signal: match from.signal {
                locknut_graph::Signal::Danger => "danger",
                locknut_graph::Signal::Warning => "warning",
                locknut_graph::Signal::Caution => "caution",
                locknut_graph::Signal::Notice => "notice",
            },
            text: prose(&from.text, units),
            condition: condition(&from.condition, units),
        })
        .collect()
}

fn steps(graph: &StepGraph, facts: &Facts, units: &Units) -> Vec<StepData> {
    (0u16..)
        .zip(&graph.steps)
        .map(|(id, from)| StepData {
            number: from.number.clone(),
            name: from.name.clone(),
            text: from.text.as_ref().map(|text| prose(text, units)),
            first: from.first.index(),
            do_not_leave: facts.do_not_leave.contains_key(&locknut_graph::StepId(id)),
        })
        .collect()
}

fn nodes(graph: &StepGraph, units: &Units) -> Vec<FlowData> {
    graph
        .flow
        .node_indices()
        .map(|id| {
            let from = graph.node(id);
            FlowData {
                kind: node(&from.kind, units),
                step: from.step.map(|step| step.0),
                effects: from.effects.iter().map(effect).collect(),
                ways: ways(graph, id, units),
            }
        })
        .collect()
}
