//! One job under way.

mod ask;
mod close;
mod signature;
mod variant;
mod walk;

pub use ask::{Answer, Ask, Refused, Told};

use crate::evaluate::{Readings, Taken, value};
use crate::judge::{Judged, choose, judge, turns, typed_number, within};
use crate::record::{Record, ValueEntry};
use close::value_entry;
use locknut_graph::{
    Act, ActKind, Choice, Marking, Moment, NodeId, NodeKind, ReadingId, ReadingKind, StepGraph,
    VariableId, VariableKind, Way,
};
use locknut_quantity::{Exact, Quantity, Units};
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
    /// At a moment that a wait counts from: how long each variable had then had its value; none once
    /// it has been written since.
    at_moment: BTreeMap<Moment, Vec<Option<Exact>>>,
    readings: Readings,
    record: Record,
    variant: Vec<VariableId>,
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
            at_moment: BTreeMap::new(),
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
            if matches!(declared.kind, VariableKind::Serial { .. }) {
                return Ask::Serial { variable };
            }
            let values = declared.values.iter().map(|value| value.words.said.clone()).collect();
            return Ask::Series { variable, values };
        }
        let node = self.marking.at;
        match &self.graph.node(node).kind {
            NodeKind::Act(act) => self.ask_act(node, act),
            NodeKind::AnyOrder { .. } => {
                let children = self.children();
                let said = children.iter().map(|child| format!("part {}", child + 1)).collect();
                Ask::Child { node, children, said }
            }
            NodeKind::Together { lanes } => {
                let children = self.children();
                let who = |lane: &u16| lanes.get(usize::from(*lane)).map(|by| by.said.clone());
                let said = children.iter().filter_map(who).collect();
                Ask::Child { node, children, said }
            }
            NodeKind::End(_)
            | NodeKind::Pass
            | NodeKind::Branch(_)
            | NodeKind::ChildDone { .. }
            | NodeKind::LaneDone { .. }
            | NodeKind::Await(_)
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
        self.open_ways()
            .into_iter()
            .filter_map(|way| if let Way::Child(child) = way { Some(child) } else { None })
            .collect()
    }

    /// Takes an answer to what is asked; `at` is the time for the record.
    ///
    /// # Errors
    /// Where the answer is refused; the job stays as it is. An undecided reading is recorded all the same.
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
                let values = vec![value_entry(&self.place_of(reading), said, "")];
                self.take(node, reading, taken, values, "read", at)
            }
            Ask::Text { node, reading } => {
                let Answer::Typed(texts) = answer else { return Err(Refused::NoAnswer) };
                let text = texts
                    .first()
                    .filter(|text| !text.trim().is_empty())
                    .ok_or(Refused::NoAnswer)?;
                self.signs_once(node, text)?;
                let values = vec![value_entry(&self.place_of(reading), text, "")];
                self.take(node, reading, Taken::Text(text.clone()), values, "read", at)
            }
            Ask::Result { node, reading } => self.result(node, reading, at),
            Ask::Child { node, children, .. } => {
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
                let turns = act.kind.verdict().map(|verdict| turns(verdict, &self.readings));
                let shown = self.shown(reading, &result, &turns.unwrap_or_default());
                let values =
                    vec![value_entry(&self.place_of(reading), &shown, &self.unit_of(reading))];
                let taken = Taken::Numbers(vec![result]);
                let told = self.take(node, reading, taken, values, "computed", at)?;
                Ok(Told { result: Some(shown), ..told })
            }
            ActKind::Choose(choice) => self.chosen(node, choice, at),
            ActKind::Do
            | ActKind::Confirm
            | ActKind::Wait { .. }
            | ActKind::Measure { .. }
            | ActKind::Count { .. }
            | ActKind::Observe { .. }
            | ActKind::Record { .. } => Err(Refused::Missing),
        }
    }

    fn chosen(&mut self, node: NodeId, choice: &Choice, at: &str) -> Result<Told, Refused> {
        let name = self.graph.reading(choice.reading).words.name.clone();
        let Some(member) = choose(choice, &self.readings) else {
            self.note(node, "chosen", &name, Vec::new(), Way::Otherwise, at);
            self.go(Way::Otherwise);
            return Ok(Told { way: Way::Otherwise, result: None });
        };
        let member = choice.set.get(member).ok_or(Refused::Missing)?;
        let pieces: Vec<&(Quantity, Option<String>)> =
            member.pieces.iter().filter_map(|at| choice.sizes.get(*at)).collect();
        let shown: Vec<String> = pieces
            .iter()
            .map(|(size, number)| match number {
                Some(number) => format!("{} ({number})", size.written),
                None => size.written.clone(),
            })
            .collect();
        let shown = shown.join(" + ");
        let place = self.place_of(choice.reading);
        let value = |(size, number): &&(Quantity, Option<String>)| {
            value_entry(&place, &size.written, number.as_deref().unwrap_or(""))
        };
        let values = pieces.iter().map(value).collect();
        self.readings.insert(choice.reading, Taken::Numbers(vec![member.size.value.clone()]));
        self.note(node, "chosen", &name, values, Way::Next, at);
        self.go(Way::Next);
        Ok(Told { way: Way::Next, result: Some(shown) })
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
        let name = self.graph.reading(reading).words.name.clone();
        let judged = match act.kind.verdict() {
            Some(verdict) => judge(verdict, &taken, &self.readings).ok_or(Refused::NoAnswer)?,
            None => Judged::Way(Way::Next),
        };
        let Judged::Way(way) = judged else {
            // What was read is evidence, though nothing follows from it.
            let again = act.substitute.as_ref().and_then(|substitute| substitute.again);
            self.note_undecided(node, what, &name, values, at);
            let Some(again) = again else { return Err(Refused::Undecided) };
            self.marking.at = again;
            return Err(Refused::UndecidedHere);
        };
        self.note(node, what, &name, values, way, at);
        self.readings.insert(reading, taken);
        self.go(way);
        Ok(Told { way, result: None })
    }

    /// Where a reading without points of its own is taken, where lines of a subtask or a block are done at a point.
    fn place_of(&self, reading: ReadingId) -> String {
        let at = self.graph.reading(reading).at.iter().map(|place| place.said.as_str());
        at.collect::<Vec<_>>().join(", ")
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

    /// With its digits; with more where it would else stand on the other side of a value at which its verdict turns.
    fn shown(&self, reading: ReadingId, result: &Exact, turns: &[Exact]) -> String {
        match &self.graph.reading(reading).kind {
            ReadingKind::Quantity { unit, decimals, .. } => {
                let unit = self.units.unit(*unit);
                let number = |value: &Exact| (value - &unit.zero) / &unit.factor;
                let (result, turns) =
                    (number(result), turns.iter().map(number).collect::<Vec<_>>());
                locknut_quantity::to_decimal_beside(&result, *decimals, &turns)
            }
            ReadingKind::Answer { .. }
            | ReadingKind::Serial
            | ReadingKind::Date
            | ReadingKind::Text => String::new(),
        }
    }
}

fn set<T>(all: &mut [T], variable: VariableId, to: T) {
    if let Some(place) = all.get_mut(usize::from(variable.0)) {
        *place = to;
    }
}
