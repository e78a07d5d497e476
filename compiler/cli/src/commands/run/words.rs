//! The sheet's lines by their node: what the terminal says at each question.

use super::node_of;
use locknut_graph::{NodeId, NodeKind, StepGraph, Way};
use locknut_job::Ask;
use locknut_sheet::{Block, Line, Panel, Sheet};
use std::collections::{BTreeMap, BTreeSet, VecDeque};

/// Lines, steps and panels by node.
#[derive(Debug)]
pub(super) struct Words {
    lines: BTreeMap<NodeId, Line>,
    /// For the first line of a step: its number, text and panels.
    steps: BTreeMap<NodeId, StepWords>,
    /// For the first line of a group inside a step: what holds for the group.
    groups: BTreeMap<NodeId, String>,
    /// Notes that stand ahead of a line, or behind the last line of a step.
    notes: BTreeMap<NodeId, Vec<String>>,
    /// What is told before work begins.
    pub(super) ahead: Vec<String>,
    numbers: BTreeMap<NodeId, String>,
    /// By the number of a step: that the machine is not left at its end.
    leaves: BTreeMap<String, String>,
    /// What is said of a block.
    blocks: BTreeMap<NodeId, String>,
    /// What may be begun at a block, by its child.
    children: BTreeMap<(NodeId, u16), String>,
    readings: Vec<String>,
    labels: BTreeMap<String, String>,
    roles: BTreeMap<String, String>,
}

/// What is said when a step begins.
#[derive(Clone, Debug)]
pub(super) struct StepWords {
    pub(super) number: String,
    pub(super) text: Option<String>,
    /// Who does it and how long it takes: "Fitter · 5 min".
    pub(super) who: Option<String>,
    /// What holds for the steps that begin here: "Side by side, fitter:".
    pub(super) group: Option<String>,
    pub(super) panels: Vec<Panel>,
}

/// What waits for the next line to be told with it.
#[derive(Default)]
struct Opening {
    step: Option<StepWords>,
    group: Option<String>,
    notes: Vec<String>,
    /// The line that was told last.
    last: Option<NodeId>,
}

impl Words {
    pub(super) fn of(sheet: &Sheet, graph: &StepGraph) -> Self {
        let mut words = Self {
            lines: BTreeMap::new(),
            steps: BTreeMap::new(),
            groups: BTreeMap::new(),
            notes: BTreeMap::new(),
            ahead: Vec::new(),
            numbers: BTreeMap::new(),
            leaves: BTreeMap::new(),
            blocks: BTreeMap::new(),
            children: BTreeMap::new(),
            labels: sheet.labels.clone(),
            roles: sheet.roles.clone(),
            readings: graph.readings.iter().map(|reading| reading.words.name.clone()).collect(),
        };
        let mut opening = Opening::default();
        words.gather(&sheet.blocks, &mut opening);
        words.notes_behind(&mut opening);
        for node in graph.flow.node_indices() {
            if let Some(step) = graph.node(node).step {
                words.numbers.insert(node, graph.step(step).number.clone());
            }
        }
        for node in graph.flow.node_indices() {
            for (way, _, begins) in graph.ways(node) {
                if let Way::Child(child) = way {
                    let said = words.child_words(graph, (node, child), begins);
                    words.children.insert((node, child), said);
                }
            }
        }
        words
    }

    /// Who does a lane; of a freed child, the first step of it.
    fn child_words(&self, graph: &StepGraph, (node, child): (NodeId, u16), at: NodeId) -> String {
        if let NodeKind::Together { lanes } = &graph.node(node).kind
            && let Some(role) = lanes.get(usize::from(child))
        {
            return self.role(&role.name, &role.said);
        }
        let first = self.first_line(graph, at);
        let step = first.and_then(|line| self.steps.get(&line));
        let group = step.and_then(|step| step.group.as_ref());
        let group = group.or_else(|| self.groups.get(&first?)).and_then(|said| said.lines().last());
        // What is said of the whole block is not said of its first part.
        let own = |said: &&str| self.blocks.get(&node).is_none_or(|block| block != said);
        let group = group.filter(own);
        let line = first.and_then(|line| self.lines.get(&line)).map(|line| &line.text);
        let told = step.and_then(|step| step.text.as_ref()).or(line);
        let number = step.map(|step| &step.number);
        let parts = [group.map(str::to_owned), number.cloned(), told.cloned()];
        parts.into_iter().flatten().collect::<Vec<_>>().join(" ")
    }

    fn first_line(&self, graph: &StepGraph, from: NodeId) -> Option<NodeId> {
        let (mut seen, mut left) = (BTreeSet::new(), VecDeque::from([from]));
        while let Some(node) = left.pop_front() {
            if self.lines.contains_key(&node) {
                return Some(node);
            }
            if seen.insert(node) {
                left.extend(graph.ways(node).into_iter().map(|(.., next)| next));
            }
        }
        None
    }

    fn gather(&mut self, blocks: &[Block], opening: &mut Opening) {
        for block in blocks {
            match block {
                Block::Section { blocks, .. } => self.gather(blocks, opening),
                Block::Group { label, node, way, blocks, .. } => {
                    self.blocks.extend(node.map(|node| (node, label.clone())));
                    // Where a way leads here, an answer has just said so.
                    if way.is_none() {
                        let outer = opening.group.take();
                        let both = |outer| format!("{outer}\n{label}");
                        opening.group = Some(outer.map_or_else(|| label.clone(), both));
                    }
                    self.gather(blocks, opening);
                    // What follows the group is not of it, even where nothing in it was told.
                    opening.group = None;
                }
                Block::Step { number, text, by, takes, panels, blocks, do_not_leave } => {
                    let leave = do_not_leave.iter().map(|said| (number.clone(), said.clone()));
                    self.leaves.extend(leave);
                    let who: Vec<&str> = by.iter().chain(takes).map(String::as_str).collect();
                    self.notes_behind(opening);
                    opening.step = Some(StepWords {
                        number: number.clone(),
                        text: text.clone(),
                        who: (!who.is_empty()).then(|| who.join(" · ")),
                        group: opening.group.take(),
                        panels: panels.clone(),
                    });
                    self.gather(blocks, opening);
                }
                Block::Line(line) => {
                    if let Some(step) = opening.step.take() {
                        self.steps.insert(line.node, step);
                    }
                    if let Some(group) = opening.group.take() {
                        self.groups.insert(line.node, group);
                    }
                    let notes = std::mem::take(&mut opening.notes);
                    self.notes.entry(line.node).or_default().extend(notes);
                    opening.last = Some(line.node);
                    self.lines.insert(line.node, line.clone());
                    for outcome in &line.outcomes {
                        for follow in &outcome.follows {
                            self.gather(&follow.blocks, opening);
                        }
                    }
                }
                Block::Note { label, text } => opening.notes.push(format!("{label}: {text}")),
                Block::Not { text } => opening.notes.push(format!("! {text}")),
                // It is told ahead of the job: here nobody is asked, and the way that is taken is not told.
                Block::Clock { in_programs, .. } => {
                    if let Some(said) = in_programs
                        && !self.ahead.contains(said)
                    {
                        self.ahead.push(said.clone());
                    }
                }
            }
        }
    }

    /// What no line follows is told with the line before.
    fn notes_behind(&mut self, opening: &mut Opening) {
        if let Some(last) = opening.last {
            let notes = std::mem::take(&mut opening.notes);
            self.notes.entry(last).or_default().extend(notes);
        }
    }

    /// Notes that are told with a question.
    pub(super) fn notes(&self, ask: &Ask) -> &[String] {
        node_of(ask).and_then(|node| self.notes.get(&node)).map(Vec::as_slice).unwrap_or_default()
    }

    /// The line of a question.
    pub(super) fn line(&self, ask: &Ask) -> Option<&Line> {
        self.lines.get(&node_of(ask)?)
    }

    /// What is said ahead of a question that opens a step.
    pub(super) fn step(&self, ask: &Ask) -> Option<&StepWords> {
        self.steps.get(&node_of(ask)?)
    }

    /// What is said ahead of a question that opens a group inside a step.
    pub(super) fn group(&self, ask: &Ask) -> Option<&String> {
        self.groups.get(&node_of(ask)?)
    }

    /// A fixed word of the sheet's language.
    pub(super) fn word(&self, key: &str) -> &str {
        self.labels.get(key).map(String::as_str).unwrap_or_default()
    }

    /// A role as the sheet says it.
    pub(super) fn role(&self, name: &str, said: &str) -> String {
        self.roles.get(name).cloned().unwrap_or_else(|| said.to_owned())
    }

    /// What may be begun.
    pub(super) fn child(&self, node: NodeId, child: u16) -> String {
        self.children.get(&(node, child)).cloned().unwrap_or_default()
    }

    /// The number of the step of a question.
    pub(super) fn number(&self, ask: &Ask) -> Option<&String> {
        self.numbers.get(&node_of(ask)?)
    }

    /// That the machine is not left where this step, and whatever ends with it, was just done.
    pub(super) fn leaves(&self, done: &str, next: &str) -> BTreeSet<&String> {
        let ended = |number: &str| {
            number == done || done.strip_prefix(number).is_some_and(|rest| rest.starts_with('.'))
        };
        let goes_on = |number: &str| {
            next == number || next.strip_prefix(number).is_some_and(|rest| rest.starts_with('.'))
        };
        let all = self.leaves.iter().filter(|(number, _)| ended(number) && !goes_on(number));
        all.map(|(_, said)| said).collect()
    }

    /// The name of the reading that a question takes.
    pub(super) fn reading(&self, ask: &Ask) -> String {
        let id = match ask {
            Ask::Numbers { reading, .. }
            | Ask::Answers { reading, .. }
            | Ask::Text { reading, .. }
            | Ask::Result { reading, .. } => *reading,
            Ask::Series { .. }
            | Ask::Serial { .. }
            | Ask::Tick { .. }
            | Ask::Wait { .. }
            | Ask::Child { .. }
            | Ask::Ended { .. } => return String::new(),
        };
        self.readings.get(usize::from(id.0)).cloned().unwrap_or_default()
    }

    /// "step 5", for messages.
    pub(super) fn place(&self, ask: &Ask) -> String {
        let number = node_of(ask).and_then(|node| self.numbers.get(&node));
        number.map_or_else(|| "the start".to_owned(), |number| format!("step {number}"))
    }
}
