//! What the page carries: the step-graph document and the words of each sheet, as JSON.

use locknut_graph::{Signal, StepGraph, Way};
use locknut_proof::Facts;
use locknut_quantity::Units;
use locknut_sheet::{
    Block, Field, Follow, Line, LineKind, List, Outcome, Panel, Said, Sheet, StateWords, Table,
};
use serde::Serialize;
use std::collections::BTreeMap;

#[derive(Serialize)]
struct PageData {
    source: String,
    graph: locknut_data::Document,
    sheets: Vec<SheetData>,
}

/// The data block's text. `<` is written as an escape, so that nothing in it can end the block.
pub(crate) fn page_data(
    sheets: &[Sheet],
    graph: &StepGraph,
    facts: &Facts,
    units: &Units,
    source: &str,
) -> String {
    let data = PageData {
        source: source.to_owned(),
        graph: locknut_data::document(graph, facts, units),
        sheets: sheets.iter().map(sheet).collect(),
    };
    // A document of these types has no map with keys that JSON lacks, so it can always be written.
    serde_json::to_string(&data).unwrap_or_default().replace('<', "\\u003c")
}

#[derive(Serialize)]
struct SheetData {
    language: String,
    units: String,
    name: String,
    publisher: String,
    title: String,
    model: String,
    revision: Option<String>,
    replaces: Option<(String, String)>,
    purpose: Option<String>,
    applies: Vec<String>,
    labels: BTreeMap<String, String>,
    banner: Vec<PanelData>,
    lists: Vec<ListData>,
    blocks: Vec<BlockData>,
    cautions: Vec<String>,
    proved: Vec<String>,
    /// The words of a variable and of its values, by its place in the step graph.
    states: BTreeMap<u16, StateData>,
    /// The roles of the crew.
    roles: BTreeMap<String, String>,
    /// What is said where the job stops, by node.
    ends: BTreeMap<usize, Vec<SaidData>>,
}

#[derive(Serialize)]
struct StateData {
    name: String,
    values: Vec<String>,
}

#[derive(Serialize)]
#[serde(untagged)]
enum SaidData {
    Text(String),
    Reading { reading: u16 },
}

#[derive(Serialize)]
struct PanelData {
    signal: &'static str,
    word: String,
    text: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    applies: Option<String>,
}

#[derive(Serialize)]
struct ListData {
    key: String,
    title: String,
    columns: Vec<String>,
    rows: Vec<Vec<String>>,
}

#[derive(Serialize)]
#[serde(tag = "block", rename_all = "kebab-case")]
enum BlockData {
    Section {
        title: String,
        blocks: Vec<BlockData>,
    },
    Step {
        number: String,
        text: Option<String>,
        by: Option<String>,
        takes: Option<String>,
        panels: Vec<PanelData>,
        blocks: Vec<BlockData>,
        leave: Option<String>,
    },
    Line(Box<LineData>),
    Group {
        label: String,
        blocks: Vec<BlockData>,
    },
    Note {
        label: String,
        text: String,
    },
    Not {
        text: String,
    },
    Program {
        text: String,
    },
}

#[derive(Serialize)]
struct LineData {
    node: usize,
    text: String,
    #[serde(flatten)]
    kind: KindData,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    panels: Vec<PanelData>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    cautions: Vec<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    per: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    order: Option<OrderData>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    tables: Vec<TableData>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    outcomes: Vec<OutcomeData>,
}

#[derive(Serialize)]
struct OrderData {
    words: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    svg: Option<String>,
}

#[derive(Serialize)]
#[serde(tag = "line", rename_all = "kebab-case")]
enum KindData {
    Tick,
    Fields { fields: Vec<FieldData> },
    Answers { answers: Vec<String> },
    Computed { rule: String, field: FieldData },
    LookUp { table: TableData, field: FieldData },
}

#[derive(Serialize)]
struct FieldData {
    label: String,
    unit: String,
    unit_name: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    limit: Option<String>,
    decimals: u32,
}

#[derive(Serialize)]
struct TableData {
    columns: Vec<String>,
    rows: Vec<Vec<String>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    caption: Option<String>,
}

#[derive(Serialize)]
struct OutcomeData {
    way: String,
    when: String,
    follows: Vec<FollowData>,
    #[serde(skip_serializing_if = "Option::is_none")]
    stands: Option<String>,
}

#[derive(Serialize)]
struct FollowData {
    text: String,
    blocks: Vec<BlockData>,
}

fn sheet(from: &Sheet) -> SheetData {
    let head = &from.head;
    SheetData {
        language: from.language.clone(),
        units: from.units.clone(),
        name: head.name.clone(),
        publisher: head.publisher.clone(),
        title: head.title.clone(),
        model: head.model.clone(),
        revision: head.revision.clone(),
        replaces: head.replaces.clone(),
        purpose: head.purpose.clone(),
        applies: head.applies.clone(),
        labels: from.labels.clone(),
        banner: panels(&from.banner),
        lists: from.lists.iter().map(list).collect(),
        blocks: blocks(&from.blocks),
        cautions: from.cautions.clone(),
        proved: from.proved.clone(),
        states: from.states.iter().map(|(id, words)| (id.0, state(words))).collect(),
        roles: from.roles.clone(),
        ends: from
            .ends
            .iter()
            .map(|(node, all)| (node.index(), all.iter().map(said).collect()))
            .collect(),
    }
}

fn state(from: &StateWords) -> StateData {
    StateData { name: from.name.clone(), values: from.values.clone() }
}

fn said(from: &Said) -> SaidData {
    match from {
        Said::Text(text) => SaidData::Text(text.clone()),
        Said::Reading(reading) => SaidData::Reading { reading: reading.0 },
    }
}

fn panels(from: &[Panel]) -> Vec<PanelData> {
    from.iter()
        .map(|panel| PanelData {
            signal: match panel.signal {
                Signal::Danger => "danger",
                Signal::Warning => "warning",
                Signal::Caution => "caution",
                Signal::Notice => "notice",
            },
            word: panel.word.clone(),
            text: panel.text.clone(),
            applies: panel.applies.clone(),
        })
        .collect()
}

fn list(from: &List) -> ListData {
    ListData {
        key: from.key.clone(),
        title: from.title.clone(),
        columns: from.columns.clone(),
        rows: from.rows.clone(),
    }
}

fn blocks(from: &[Block]) -> Vec<BlockData> {
    from.iter().filter_map(block).collect()
}

/// None where a place is left on paper only: a program keeps the times itself.
fn block(from: &Block) -> Option<BlockData> {
    Some(match from {
        Block::Section { title, blocks: inner } => {
            BlockData::Section { title: title.clone(), blocks: blocks(inner) }
        }
        Block::Step { number, text, by, takes, panels: ahead, blocks: inner, do_not_leave } => {
            BlockData::Step {
                number: number.clone(),
                text: text.clone(),
                by: by.clone(),
                takes: takes.clone(),
                panels: panels(ahead),
                blocks: blocks(inner),
                leave: do_not_leave.clone(),
            }
        }
        Block::Line(from) => BlockData::Line(Box::new(line(from))),
        Block::Group { label, blocks: inner, .. } => {
            BlockData::Group { label: label.clone(), blocks: blocks(inner) }
        }
        Block::Note { label, text } => BlockData::Note { label: label.clone(), text: text.clone() },
        Block::Not { text } => BlockData::Not { text: text.clone() },
        Block::Clock { in_programs, .. } => BlockData::Program { text: in_programs.clone()? },
    })
}

fn line(from: &Line) -> LineData {
    LineData {
        node: from.node.index(),
        text: from.text.clone(),
        kind: kind(&from.kind),
        panels: panels(&from.panels),
        cautions: from.cautions.clone(),
        per: from.source.clone(),
        order: from.order.as_ref().map(|order| {
            let svg = locknut_picture::pattern(&order.pattern, &order.words);
            // The drawing numbers the turns, the words number the places: side by side they would mislead.
            let words = if svg.is_some() { &order.caption } else { &order.words };
            OrderData { words: words.clone(), svg }
        }),
        tables: from.tables.iter().map(table).collect(),
        outcomes: from.outcomes.iter().map(outcome).collect(),
    }
}

fn kind(from: &LineKind) -> KindData {
    match from {
        LineKind::Tick => KindData::Tick,
        LineKind::Fields(fields) => KindData::Fields { fields: fields.iter().map(field).collect() },
        LineKind::Answers(answers) => KindData::Answers { answers: answers.clone() },
        LineKind::Computed { rule, field: of } => {
            KindData::Computed { rule: rule.clone(), field: field(of) }
        }
        LineKind::LookUp { table: from, field: of } => {
            KindData::LookUp { table: table(from), field: field(of) }
        }
    }
}

fn field(from: &Field) -> FieldData {
    FieldData {
        label: from.label.clone(),
        unit: from.unit.clone(),
        unit_name: from.unit_name.clone(),
        limit: from.limit.clone(),
        decimals: from.decimals,
    }
}

fn table(from: &Table) -> TableData {
    TableData {
        columns: from.columns.clone(),
        rows: from.rows.clone(),
        caption: from.caption.clone(),
    }
}

fn outcome(from: &Outcome) -> OutcomeData {
    OutcomeData {
        way: way(from.way),
        when: from.when.clone(),
        follows: from.follows.iter().map(follow).collect(),
        stands: from.stands.clone(),
    }
}

fn follow(from: &Follow) -> FollowData {
    FollowData { text: from.text.clone(), blocks: blocks(&from.blocks) }
}

/// The way by its word, as the step graph's JSON spells it.
fn way(from: Way) -> String {
    locknut_data::way_word(from)
}
