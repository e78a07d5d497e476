//! What is said.

use locknut_graph::{NodeId, Pattern, ReadingId, Signal, Template, VariableId, Way};
use std::collections::BTreeMap;
use std::sync::Arc;

/// One procedure in one language and one unit system.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// Language tag, e.g. `en`, `de`.
    pub language: String,
    /// `si`, `us`, or `as written`.
    pub units: String,
    /// Title block.
    pub head: Head,
    /// Fixed words a layout needs, by key: `step`, `done-by`, `page-of`, `accept`, `signature` …
    pub labels: BTreeMap<String, String>,
    /// Panels of page one: hazards that stand from the start or belong to no step.
    pub banner: Vec<Panel>,
    /// People, time, instruments, special tools, tools, parts, consumables; empty ones left out.
    pub lists: Vec<List>,
    /// What of the machine some line asks for, to be answered before work begins.
    pub asked: Vec<Asked>,
    /// The procedure, in reading order.
    pub blocks: Vec<Block>,
    /// Who signs.
    pub signatures: Vec<SignLine>,
    /// The usual cautions: local codes, the maker's data, a competent and authorised person.
    pub cautions: Vec<String>,
    /// What the proof does and does not cover, in one or two sentences.
    pub proved: Vec<String>,
    /// What is cut out, each on a page of its own behind the sheet.
    pub templates: Vec<TemplateSheet>,
    /// For a program: the words of whatever of the machine may come to stand otherwise than normal.
    pub states: BTreeMap<VariableId, StateWords>,
    /// For a program: the roles of the crew, by their names in the source.
    pub roles: BTreeMap<String, String>,
    /// For a program: what is said where the job stops.
    pub ends: BTreeMap<NodeId, Vec<Said>>,
}

/// Something that is asked of the machine: its series, its serial number.
#[derive(Clone, Debug)]
pub struct Asked {
    /// "Which series is the machine?"
    pub label: String,
    /// What is ticked; empty where it is written down.
    pub answers: Vec<String>,
}

/// The words of a variable: the same in every output.
#[derive(Clone, Debug)]
pub struct StateWords {
    /// "yoke"
    pub name: String,
    /// "in place", "off", in the order of its values.
    pub values: Vec<String>,
}

impl StateWords {
    /// "yoke: off"
    #[must_use]
    pub fn said(&self, value: u8) -> String {
        let value = self.values.get(usize::from(value)).map(String::as_str).unwrap_or_default();
        format!("{}: {value}", self.name)
    }
}

/// A piece of a text into which readings are put while the job is done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Said {
    /// As it stands.
    Text(String),
    /// What was read.
    Reading(ReadingId),
}

/// A template as it is printed.
#[derive(Clone, Debug)]
pub struct TemplateSheet {
    /// Language tag, e.g. `en`, `de`.
    pub language: String,
    /// The name in the source, e.g. `wear-card`.
    pub name: String,
    /// "Template: wear card".
    pub title: String,
    /// What it is for.
    pub purpose: Option<String>,
    /// How it is printed, proved and cut, a sentence each.
    pub how: Vec<String>,
    /// How long the lines are that prove the scale: the one across, the one down.
    pub lines: [String; 2],
    /// What is said where it is turned to fit on the paper.
    pub turned: String,
    /// What is said on the page of the drawing where these words need another one.
    pub next_page: String,
    /// Its dimensions in words, an item each.
    pub dimensions: Vec<String>,
    /// What stands on it, in the order of its labels.
    pub labels: Vec<String>,
    /// Its outline and its cuts.
    pub template: Arc<Template>,
}

/// Title block.
#[derive(Clone, Debug, Default)]
pub struct Head {
    /// The name in the source, e.g. `slew-brake-gap`.
    pub name: String,
    /// Who publishes.
    pub publisher: String,
    /// What is done.
    pub title: String,
    /// What it is done to.
    pub model: String,
    /// "Revision D, 2 October 2026".
    pub revision: Option<String>,
    /// "Replaces revision C", and why.
    pub replaces: Option<(String, String)>,
    /// What it is for.
    pub purpose: Option<String>,
    /// "Series B and C", "Serial numbers from 2044".
    pub applies: Vec<String>,
}

/// A hazard panel.
#[derive(Clone, Debug)]
pub struct Panel {
    /// How grave.
    pub signal: Signal,
    /// The signal word: "DANGER".
    pub word: String,
    /// What, what it does, how to avoid it.
    pub text: String,
    /// When it holds, in words: "while the supply is live".
    pub applies: Option<String>,
}

/// A titled table.
#[derive(Clone, Debug)]
pub struct List {
    /// Key for a layout: `people`, `time`, `instruments`, `special-tools`, `tools`, `parts`, `consumables`.
    pub key: String,
    /// Its title.
    pub title: String,
    /// Column heads; may be empty.
    pub columns: Vec<String>,
    /// Rows, each as long as the heads.
    pub rows: Vec<Vec<String>>,
}

/// A piece of the procedure.
#[derive(Clone, Debug)]
#[expect(clippy::large_enum_variant, reason = "a sheet is made once, and most of it is lines")]
pub enum Block {
    /// A titled stretch.
    Section { title: String, blocks: Vec<Block> },
    /// A numbered step.
    Step {
        number: String,
        /// What the author says; may be absent.
        text: Option<String>,
        /// "Fitter", "all".
        by: Option<String>,
        /// "10 min".
        takes: Option<String>,
        /// Panels that stand ahead of it.
        panels: Vec<Panel>,
        /// Its lines, notes and nested blocks.
        blocks: Vec<Block>,
        /// "Do not leave the machine here": the reason in words.
        do_not_leave: Option<String>,
    },
    /// An act.
    Line(Line),
    /// "In any order:", "If series B:", "Only where the spread is above 0.15 mm:"; nested blocks. `way` and
    /// `node` tell where in the flow it is decided; nobody leaves inside an `unbroken` one.
    Group {
        label: String,
        node: Option<NodeId>,
        way: Option<Way>,
        unbroken: bool,
        blocks: Vec<Block>,
    },
    /// Places for clock times, for whoever works by the paper; and what a program says there instead, if anything.
    Clock { fields: Vec<String>, in_programs: Option<String> },
    /// A note; the label is "Note".
    Note { label: String, text: String },
    /// What the step is not.
    Not { text: String },
}

/// A line of an act.
#[derive(Clone, Debug)]
pub struct Line {
    /// Its node in the flow.
    pub node: NodeId,
    /// What is done, a sentence.
    pub text: String,
    /// What is ticked or written.
    pub kind: LineKind,
    /// Panels that stand ahead of this very line, where it is not the first of its step.
    pub panels: Vec<Panel>,
    /// Cautions that belong to it: sealed parts, misreadings.
    pub cautions: Vec<String>,
    /// Where the figure comes from: "Drawing TS-114 issue 6".
    pub source: Option<String>,
    /// The order of tightening.
    pub order: Option<Box<Order>>,
    /// What is looked up at it.
    pub tables: Vec<Table>,
    /// What follows from a reading, in order; blocks of acts nested.
    pub outcomes: Vec<Outcome>,
}

/// The order in which fasteners are tightened.
#[derive(Clone, Debug)]
pub struct Order {
    /// Where they stand, and whose turn it is.
    pub pattern: Pattern,
    /// What a drawing is called: "Tighten in the order of the numbers."
    pub caption: String,
    /// The order in words: "Order, counted clockwise: 1, 3, 2, 4."
    pub words: String,
}

/// What is ticked or written at a line.
#[derive(Clone, Debug)]
pub enum LineKind {
    /// A tick box.
    Tick,
    /// Fields to fill in.
    Fields(Vec<Field>),
    /// Boxes to choose from, e.g. yes / no.
    Answers(Vec<String>),
    /// A worked line: what to compute, and a field for the result.
    Computed { rule: String, field: Field },
    /// A look-up table and a field for what was taken.
    LookUp { table: Table, field: Field },
}

/// A field for one value.
#[derive(Clone, Debug)]
pub struct Field {
    /// "top", or the reading's name.
    pub label: String,
    /// "mm", "bar gauge"; empty for text.
    pub unit: String,
    /// The unit's name in the unit table, for programs.
    pub unit_name: String,
    /// "at most 0.15 mm", in the reader's units, never outside.
    pub limit: Option<String>,
    /// The same limit as numbers for a drawn band: from, to (either may be absent), as digits.
    pub band: Option<(Option<String>, Option<String>)>,
    /// Digits after the point that the instrument shows.
    pub decimals: u32,
}

/// A small table.
#[derive(Clone, Debug)]
pub struct Table {
    /// Column heads.
    pub columns: Vec<String>,
    /// Rows.
    pub rows: Vec<Vec<String>>,
    /// How it is read, and where it comes from.
    pub caption: Option<String>,
}

/// What follows when a reading goes one way.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// Which way out of the line's node.
    pub way: Way,
    /// "Above 0.15 mm:"
    pub when: String,
    /// What is done then, part by part: each has a sentence, and the acts that stand under it and under no other.
    pub follows: Vec<Follow>,
    /// How the machine is left, where the job ends: "The machine stands: isolated, cover off."
    pub stands: Option<String>,
}

/// A part of what follows.
#[derive(Clone, Debug)]
pub struct Follow {
    /// "Do what follows. Then repeat from step 4, 2 times at most."
    pub text: String,
    /// The acts.
    pub blocks: Vec<Block>,
}

impl Outcome {
    /// All of it in one line, for a reader who is asked for the acts one by one.
    #[must_use]
    pub fn said(&self) -> String {
        let parts: Vec<&str> = self.follows.iter().map(|follow| follow.text.as_str()).collect();
        format!("{} {}", self.when, parts.join(" "))
    }
}

/// A line of the signature block.
#[derive(Clone, Debug)]
pub struct SignLine {
    /// "Fitter", "Checked by".
    pub role: String,
}
