//! One job under way.

use crate::evaluate::{Machine, Readings, Taken, holds, value};
use crate::judge::{choose, judge, typed_number, within};
use crate::record::{Entry, Record, RecordEnd, ValueEntry};
use locknut_graph::{
    Act, ActKind, Effect, End, Marking, NodeId, NodeKind, Prose, ReadingId, ReadingKind, StepGraph,
    StepId, VariableId, VariableKind, Way,
};
use locknut_quantity::{Exact, Units};
use num_traits::Zero;
use std::collections::BTreeMap;

/// A job under way: where it stands, how the machine stands, what was read.
#[derive(Clone, Debug)]
pub struct Job<'a> {
    graph: &'a StepGraph,
    units: &'a Units,
    marking: Marking,
    values: Vec<u8>,
    proved: Vec<bool>,
    waited: Vec<Exact>,
    /// At the end of a step that a wait counts from: how long each variable had then had its value;
    /// none once it has been written since.
    at_step_end: BTreeMap<StepId, Vec<Option<Exact>>>,
    readings: Readings,
    record: Record,
    variant: Vec<VariableId>,
}

/// What is asked of the person next.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Ask {
    /// Which series the machine is of: one of these.
    Series { variable: VariableId, values: Vec<String> },
    /// The machine's serial number.
    Serial { variable: VariableId },
    /// Do it, then tick.
    Tick { node: NodeId },
    /// Wait so long; `since` the end of that step, else from now.
    Wait { node: NodeId, seconds: Exact },
    /// Values, one a point, in the unit of the reading.
    Numbers { node: NodeId, reading: ReadingId, points: usize },
    /// One of the answers.
    Answers { node: NodeId, reading: ReadingId, answers: Vec<String> },
    /// Something to write down.
    Text { node: NodeId, reading: ReadingId },
    /// Nothing is typed: the result is shown and taken.
    Result { node: NodeId, reading: ReadingId },
    /// Which freed child is done next.
    Child { node: NodeId, children: Vec<u16> },
    /// The job has ended.
    Ended { node: NodeId },
}

/// What the person answers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Answer {
    /// Ticked, waited, or read off.
    Done,
    /// Typed: one text a point.
    Typed(Vec<String>),
    /// The answer's position.
    Picked(usize),
}

/// What came of an answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    /// The way taken.
    pub way: Way,
    /// A result or chosen member, as a number in the reading's unit with its digits.
    pub result: Option<String>,
}

/// Why an answer is not taken; the job stays where it is.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Refused {
    /// Not a number.
    #[error("“{text}” is not a number")]
    NotANumber { text: String },
    /// The instrument cannot show it.
    #[error("{instrument} cannot show {text}: it shows {range} on its own digits")]
    NotShown { instrument: String, text: String, range: String },
    /// Not what is expected here: look again.
    #[error("{text} is not expected here (expected {range}): measure again")]
    NotExpected { text: String, range: String },
    /// Another number of values.
    #[error("{wanted} values are wanted, {given} were given")]
    Count { wanted: usize, given: usize },
    /// Not among the answers, or not the kind of answer that is asked for.
    #[error("that is not one of the answers")]
    NoAnswer,
    /// A reading that this one is worked out from is missing.
    #[error("this cannot be worked out: a reading is missing")]
    Missing,
    /// A machine that the procedure is not for.
    #[error("this procedure is not for that machine")]
    NotFor,
}

impl<'a> Job<'a> {
    /// A job that has not begun. `source` is the hash of the sources it was built from.
    pub fn new(graph: &'a StepGraph, units: &'a Units, source: &str) -> Self {
        let heading = &graph.heading;
        let revision = heading.revision.as_ref().map(|(letter, _)| letter.as_str());
        let count = graph.variables.len();
        let mut job = Self {
            graph,
            units,
            marking: Marking::start(graph),
            values: graph.variables.iter().map(|variable| variable.normal).collect(),
            proved: vec![false; count],
            waited: vec![Exact::zero(); count],
            at_step_end: BTreeMap::new(),
            readings: Readings::new(),
            record: Record::new(&heading.name, revision, source),
            variant: Vec::new(),
        };
        job.begin();
        job
    }

    fn begin(&mut self) {
        for (variable, values) in &self.graph.starts {
            if let (Some(place), Some(first)) =
                (self.values.get_mut(usize::from(variable.0)), values.first())
            {
                *place = *first;
            }
        }
        for variable in &self.graph.starts_proved {
            set(&mut self.proved, *variable, true);
        }
        for (variable, seconds) in &self.graph.starts_held {
            set(&mut self.waited, *variable, seconds.clone());
        }
        let ids = (0u16..).map(VariableId).zip(&self.graph.variables);
        self.variant = ids
            .filter(|(_, variable)| {
                matches!(variable.kind, VariableKind::Series | VariableKind::Serial { .. })
            })
            .map(|(id, _)| id)
            .collect();
        self.settle();
    }

    /// The record so far.
    pub fn record(&self) -> &Record {
        &self.record
    }

    /// The readings taken and not made void.
    pub fn readings(&self) -> &Readings {
        &self.readings
    }

    /// What is asked next.
    pub fn ask(&self) -> Ask {
        if let Some(variable) = self.variant.first().copied() {
            let declared = self.graph.variable(variable);
            return match &declared.kind {
                VariableKind::Serial { .. } => Ask::Serial { variable },
                _ => Ask::Series {
                    variable,
                    values: declared.values.iter().map(|value| value.words.said.clone()).collect(),
                },
            };
        }
        let node = self.marking.at;
        match &self.graph.node(node).kind {
            NodeKind::Act(act) => self.ask_act(node, act),
            NodeKind::AnyOrder { .. } => Ask::Child { node, children: self.children() },
            NodeKind::End(_)
            | NodeKind::Pass
            | NodeKind::Branch(_)
            | NodeKind::ChildDone { .. }
            | NodeKind::Repeat(_)
            | NodeKind::Enter { .. }
            | NodeKind::Leave { .. } => Ask::Ended { node },
        }
    }

    fn ask_act(&self, node: NodeId, act: &Act) -> Ask {
        match &act.kind {
            ActKind::Do | ActKind::Confirm => Ask::Tick { node },
            ActKind::Wait { seconds, .. } => Ask::Wait { node, seconds: seconds.clone() },
            ActKind::Measure { reading, .. } | ActKind::Count { reading, .. } => Ask::Numbers {
                node,
                reading: *reading,
                points: self.graph.reading(*reading).points.len().max(1),
            },
            ActKind::Observe { reading, .. } => Ask::Answers {
                node,
                reading: *reading,
                answers: match &self.graph.reading(*reading).kind {
                    ReadingKind::Answer { answers, .. } => {
                        answers.iter().map(|answer| answer.said.clone()).collect()
                    }
                    ReadingKind::Quantity { .. }
                    | ReadingKind::Serial
                    | ReadingKind::Date
                    | ReadingKind::Text => Vec::new(),
                },
            },
            ActKind::Record { reading } => Ask::Text { node, reading: *reading },
            ActKind::Check { reading, .. } => Ask::Result { node, reading: *reading },
            ActKind::Choose(choice) => Ask::Result { node, reading: choice.reading },
        }
    }

    fn children(&self) -> Vec<u16> {
        self.marking
            .ways(self.graph)
            .into_iter()
            .filter_map(|way| if let Way::Child(child) = way { Some(child) } else { None })
            .collect()
    }

    /// Takes an answer to what is asked; `at` is the time for the record.
    ///
    /// # Errors
    /// Where the answer is refused; the job stays as it is.
    pub fn answer(&mut self, answer: &Answer, at: &str) -> Result<Told, Refused> {
        match self.ask() {
            Ask::Series { variable, .. } => self.series(variable, answer, at),
            Ask::Serial { variable } => self.serial(variable, answer, at),
            Ask::Tick { node } => Ok(self.tick(node, "done", at)),
            Ask::Wait { node, .. } => Ok(self.tick(node, "waited", at)),
            Ask::Numbers { node, reading, points } => {
                self.numbers(node, reading, points, answer, at)
            }
            Ask::Answers { node, reading, answers } => {
                let Answer::Picked(picked) = answer else { return Err(Refused::NoAnswer) };
                let said = answers.get(*picked).ok_or(Refused::NoAnswer)?;
                let taken = Taken::Answer(u8::try_from(*picked).unwrap_or(u8::MAX));
                let values = vec![value_entry("", said, "")];
                self.take(node, reading, taken, values, "read", at)
            }
            Ask::Text { node, reading } => {
                let Answer::Typed(texts) = answer else { return Err(Refused::NoAnswer) };
                let text = texts
                    .first()
                    .filter(|text| !text.trim().is_empty())
                    .ok_or(Refused::NoAnswer)?;
                let values = vec![value_entry("", text, "")];
                self.take(node, reading, Taken::Text(text.clone()), values, "read", at)
            }
            Ask::Result { node, reading } => self.result(node, reading, at),
            Ask::Child { node, children } => {
                let Answer::Picked(picked) = answer else { return Err(Refused::NoAnswer) };
                let child = children.get(*picked).copied().ok_or(Refused::NoAnswer)?;
                let way = Way::Child(child);
                self.note(node, "child", "", Vec::new(), way, at);
                self.go(way);
                Ok(Told { way, result: None })
            }
            Ask::Ended { .. } => Err(Refused::NoAnswer),
        }
    }

    fn series(&mut self, variable: VariableId, answer: &Answer, at: &str) -> Result<Told, Refused> {
        let Answer::Picked(picked) = answer else { return Err(Refused::NoAnswer) };
        let picked = u8::try_from(*picked).map_err(|_| Refused::NoAnswer)?;
        let declared = self.graph.variable(variable);
        let said =
            declared.values.get(usize::from(picked)).ok_or(Refused::NoAnswer)?.words.said.clone();
        self.variant_is(variable, picked, "series", &said, at)
    }

    fn serial(&mut self, variable: VariableId, answer: &Answer, at: &str) -> Result<Told, Refused> {
        let Answer::Typed(texts) = answer else { return Err(Refused::NoAnswer) };
        let text = texts.first().map(|text| text.trim().to_owned()).unwrap_or_default();
        let number: u64 = text.parse().map_err(|_| Refused::NotANumber { text: text.clone() })?;
        let VariableKind::Serial { stretches } = &self.graph.variable(variable).kind else {
            return Err(Refused::NoAnswer);
        };
        let inside = |(from, to): &(Option<u64>, Option<u64>)| {
            from.is_none_or(|from| number >= from) && to.is_none_or(|to| number <= to)
        };
        let position = stretches.iter().position(inside).ok_or(Refused::NotFor)?;
        let position = u8::try_from(position).map_err(|_| Refused::NotFor)?;
        self.variant_is(variable, position, "serial", &text, at)
    }

    fn variant_is(
        &mut self,
        variable: VariableId,
        value: u8,
        name: &str,
        said: &str,
        at: &str,
    ) -> Result<Told, Refused> {
        let allowed = self.graph.starts.iter().find(|(of, _)| *of == variable);
        if allowed.is_some_and(|(_, values)| !values.contains(&value)) {
            return Err(Refused::NotFor);
        }
        set(&mut self.values, variable, value);
        self.variant.retain(|asked| *asked != variable);
        let entry =
            self.entry("", None, "machine", name, vec![value_entry("", said, "")], "next", at);
        self.record.add(entry);
        self.settle();
        Ok(Told { way: Way::Next, result: None })
    }

    fn tick(&mut self, node: NodeId, what: &str, at: &str) -> Told {
        let name =
            self.graph.node(node).act().map(|act| act.line.phrase.clone()).unwrap_or_default();
        self.note(node, what, &name, Vec::new(), Way::Next, at);
        self.go(Way::Next);
        Told { way: Way::Next, result: None }
    }

    fn numbers(
        &mut self,
        node: NodeId,
        reading: ReadingId,
        points: usize,
        answer: &Answer,
        at: &str,
    ) -> Result<Told, Refused> {
        let Answer::Typed(texts) = answer else { return Err(Refused::NoAnswer) };
        if texts.len() != points {
            return Err(Refused::Count { wanted: points, given: texts.len() });
        }
        let mut numbers = Vec::new();
        for text in texts {
            numbers.push(self.number(node, reading, text)?);
        }
        let declared = self.graph.reading(reading);
        let unit = self.unit_of(reading);
        let values = texts.iter().enumerate().map(|(point, text)| {
            let point =
                declared.points.get(point).map(|words| words.said.clone()).unwrap_or_default();
            value_entry(&point, text.trim(), &unit)
        });
        let values = values.collect();
        self.take(node, reading, Taken::Numbers(numbers), values, "read", at)
    }

    fn number(&self, node: NodeId, reading: ReadingId, text: &str) -> Result<Exact, Refused> {
        let ReadingKind::Quantity { unit, .. } = &self.graph.reading(reading).kind else {
            return Err(Refused::NoAnswer);
        };
        let number = typed_number(text, self.units.unit(*unit))
            .ok_or_else(|| Refused::NotANumber { text: text.to_owned() })?;
        let Some(act) = self.graph.node(node).act() else { return Err(Refused::NoAnswer) };
        let instrument = act.instrument.and_then(|position| self.graph.instruments.get(position));
        if let Some(instrument) = instrument.filter(|instrument| !within(instrument, &number)) {
            return Err(Refused::NotShown {
                instrument: instrument.words.said.clone(),
                text: text.to_owned(),
                range: instrument.range_written.clone(),
            });
        }
        let whole = !matches!(act.kind, ActKind::Count { .. }) || number.is_integer();
        if !whole {
            return Err(Refused::NotANumber { text: text.to_owned() });
        }
        match act.kind.expect() {
            Some(expect) if !expect.range.contains(&number) => {
                Err(Refused::NotExpected { text: text.to_owned(), range: expect.written.clone() })
            }
            _ => Ok(number),
        }
    }

    fn result(&mut self, node: NodeId, reading: ReadingId, at: &str) -> Result<Told, Refused> {
        let Some(act) = self.graph.node(node).act() else { return Err(Refused::Missing) };
        match &act.kind {
            ActKind::Check { value: of, .. } => {
                let result = value(of, &self.readings).ok_or(Refused::Missing)?;
                let shown = self.shown(reading, &result);
                let values = vec![value_entry("", &shown, &self.unit_of(reading))];
                let taken = Taken::Numbers(vec![result]);
                let told = self.take(node, reading, taken, values, "computed", at)?;
                Ok(Told { result: Some(shown), ..told })
            }
            ActKind::Choose(choice) => match choose(choice, &self.readings) {
                Some(member) => {
                    let (size, number) = choice.set.get(member).ok_or(Refused::Missing)?;
                    let shown = number.clone().unwrap_or_else(|| size.written.clone());
                    let values =
                        vec![value_entry("", &size.written, number.as_deref().unwrap_or(""))];
                    let taken = Taken::Numbers(vec![size.value.clone()]);
                    self.readings.insert(reading, taken);
                    let name = self.graph.reading(reading).words.name.clone();
                    self.note(node, "chosen", &name, values, Way::Next, at);
                    self.go(Way::Next);
                    Ok(Told { way: Way::Next, result: Some(shown) })
                }
                None => {
                    let name = self.graph.reading(reading).words.name.clone();
                    self.note(node, "chosen", &name, Vec::new(), Way::Otherwise, at);
                    self.go(Way::Otherwise);
                    Ok(Told { way: Way::Otherwise, result: None })
                }
            },
            ActKind::Do
            | ActKind::Confirm
            | ActKind::Wait { .. }
            | ActKind::Measure { .. }
            | ActKind::Count { .. }
            | ActKind::Observe { .. }
            | ActKind::Record { .. } => Err(Refused::Missing),
        }
    }

    fn take(
        &mut self,
        node: NodeId,
        reading: ReadingId,
        taken: Taken,
        values: Vec<ValueEntry>,
        what: &str,
        at: &str,
    ) -> Result<Told, Refused> {
        let Some(act) = self.graph.node(node).act() else { return Err(Refused::NoAnswer) };
        let way = match act.kind.verdict() {
            Some(verdict) => judge(verdict, &taken, &self.readings).ok_or(Refused::NoAnswer)?,
            None => Way::Next,
        };
        let name = self.graph.reading(reading).words.name.clone();
        self.note(node, what, &name, values, way, at);
        self.readings.insert(reading, taken);
        self.go(way);
        Ok(Told { way, result: None })
    }

    /// Takes a way, then passes everything at which nobody is asked anything.
    fn go(&mut self, way: Way) {
        self.pass(way);
        self.settle();
    }

    fn settle(&mut self) {
        while let Some(way) = self.silent_way() {
            self.pass(way);
        }
    }

    /// The way out of a node at which nobody is asked anything.
    fn silent_way(&self) -> Option<Way> {
        if !self.variant.is_empty() {
            return None;
        }
        match &self.graph.node(self.marking.at).kind {
            NodeKind::Act(_) | NodeKind::End(_) => None,
            NodeKind::Branch(condition) => {
                let machine = Machine {
                    values: &self.values,
                    proved: &self.proved,
                    waited: &self.waited,
                    readings: &self.readings,
                };
                Some(if holds(condition, &machine) { Way::Arm(0) } else { Way::Arm(1) })
            }
            NodeKind::AnyOrder { .. } => {
                let ways = self.marking.ways(self.graph);
                // The last child left needs no question.
                if ways.len() == 1 { ways.first().copied() } else { None }
            }
            NodeKind::Pass
            | NodeKind::ChildDone { .. }
            | NodeKind::Repeat(_)
            | NodeKind::Enter { .. }
            | NodeKind::Leave { .. } => self.marking.ways(self.graph).first().copied(),
        }
    }

    fn pass(&mut self, way: Way) {
        let at = self.marking.at;
        let Some(next) = self.marking.take(self.graph, way) else { return };
        let edge =
            self.graph.follow(at, way).map(|(edge, _)| edge.effects.clone()).unwrap_or_default();
        for effect in self.graph.node(at).effects.iter().chain(&edge) {
            self.bring_about(effect);
        }
        self.marking = next;
    }

    fn bring_about(&mut self, effect: &Effect) {
        match effect {
            Effect::Set { variable, value } => {
                set(&mut self.values, *variable, *value);
                set(&mut self.proved, *variable, false);
                set(&mut self.waited, *variable, Exact::zero());
                self.at_step_end.values_mut().for_each(|then| set(then, *variable, None));
            }
            Effect::Prove { variable } => set(&mut self.proved, *variable, true),
            Effect::Wait { seconds } => {
                self.waited.iter_mut().for_each(|waited| *waited += seconds)
            }
            Effect::WaitSince { seconds, step } => self.wait_since(seconds, *step),
            Effect::StepEnds { step } => {
                let then = self.waited.iter().cloned().map(Some).collect();
                self.at_step_end.insert(*step, then);
            }
            Effect::Void { readings, proofs } => {
                self.readings.retain(|reading, _| !readings.contains(reading));
                proofs.iter().for_each(|variable| set(&mut self.proved, *variable, false));
            }
            Effect::Take { .. } | Effect::Afresh { .. } => {}
        }
    }

    /// A floor, not a sum: what was written after that step's end gains nothing for certain.
    fn wait_since(&mut self, seconds: &Exact, step: StepId) {
        let Some(then) = self.at_step_end.get(&step) else { return };
        for (waited, then) in self.waited.iter_mut().zip(then) {
            if let Some(floor) = then.as_ref().map(|then| then + seconds)
                && floor > *waited
            {
                *waited = floor;
            }
        }
    }

    fn note(
        &mut self,
        node: NodeId,
        what: &str,
        name: &str,
        values: Vec<ValueEntry>,
        way: Way,
        at: &str,
    ) {
        let step = self.graph.node(node).step.map(|step| self.graph.step(step).number.clone());
        let noting = self
            .graph
            .follow(node, way)
            .and_then(|(edge, _)| edge.noting.as_ref())
            .map(Prose::written);
        let mut entry = self.entry(
            &step.unwrap_or_default(),
            Some(node),
            what,
            name,
            values,
            &way_word(way),
            at,
        );
        entry.noting = noting;
        self.record.add(entry);
    }

    #[expect(
        clippy::too_many_arguments,
        reason = "an entry has that many fields; it is built here only"
    )]
    fn entry(
        &self,
        step: &str,
        node: Option<NodeId>,
        what: &str,
        name: &str,
        values: Vec<ValueEntry>,
        way: &str,
        at: &str,
    ) -> Entry {
        Entry {
            number: 0,
            at: at.into(),
            step: step.into(),
            node: node.map(NodeId::index),
            what: what.into(),
            name: name.into(),
            values,
            way: way.into(),
            noting: None,
            before: String::new(),
            hash: String::new(),
        }
    }

    fn unit_of(&self, reading: ReadingId) -> String {
        match &self.graph.reading(reading).kind {
            ReadingKind::Quantity { unit, .. } => self.units.unit(*unit).name.clone(),
            ReadingKind::Answer { .. }
            | ReadingKind::Serial
            | ReadingKind::Date
            | ReadingKind::Text => String::new(),
        }
    }

    fn shown(&self, reading: ReadingId, result: &Exact) -> String {
        match &self.graph.reading(reading).kind {
            ReadingKind::Quantity { unit, decimals, .. } => {
                let unit = self.units.unit(*unit);
                locknut_quantity::to_decimal(&((result - &unit.zero) / &unit.factor), *decimals)
            }
            ReadingKind::Answer { .. }
            | ReadingKind::Serial
            | ReadingKind::Date
            | ReadingKind::Text => String::new(),
        }
    }

    /// Closes the record of a job that has ended.
    pub fn finish(mut self) -> Record {
        if let Ask::Ended { node } = self.ask()
            && let NodeKind::End(end) = &self.graph.node(node).kind
        {
            let (how, text) = match end {
                End::Done => ("done", String::new()),
                End::Stop { text } => ("stop", text.written()),
                End::Refer { to } => ("refer", to.written()),
            };
            self.record.end = Some(RecordEnd {
                how: how.into(),
                text,
                stands: self.stands(),
                head: self.record.head(),
            });
        }
        self.record
    }

    /// What is otherwise than normal: name and value.
    pub fn stands(&self) -> Vec<(String, String)> {
        let machine = self.graph.variables.iter().zip(&self.values).filter(|(variable, _)| {
            matches!(
                variable.kind,
                VariableKind::State | VariableKind::Element { .. } | VariableKind::Tool
            )
        });
        machine
            .filter(|(variable, value)| variable.normal != **value)
            .map(|(variable, value)| {
                let value = variable.values.get(usize::from(*value));
                (
                    variable.words.said.clone(),
                    value.map(|value| value.words.said.clone()).unwrap_or_default(),
                )
            })
            .collect()
    }
}

fn set<T>(all: &mut [T], variable: VariableId, to: T) {
    if let Some(place) = all.get_mut(usize::from(variable.0)) {
        *place = to;
    }
}

fn value_entry(point: &str, text: &str, unit: &str) -> ValueEntry {
    ValueEntry { point: point.into(), text: text.into(), unit: unit.into() }
}

/// The way by its word, as the record and the step graph's JSON spell it.
fn way_word(way: Way) -> String {
    match way {
        Way::Next => "next".into(),
        Way::Accepted => "accepted".into(),
        Way::Otherwise => "otherwise".into(),
        Way::Arm(arm) => format!("arm {arm}"),
        Way::Child(child) => format!("child {child}"),
        Way::Again => "again".into(),
        Way::Failing => "failing".into(),
    }
}
