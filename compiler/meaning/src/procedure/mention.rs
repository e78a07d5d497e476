//! What a procedure mentions anywhere: looked up before it is laid, so that a step knows that a later
//! line goes back to it, and a machine is split only by what some line asks for.

use locknut_finding::Span;
use locknut_syntax::tree::{
    Act, Body, Clause, ClauseValue, Condition, End, Header, Item, Name, Object, Outcome, Procedure,
    Step,
};
use std::collections::{BTreeMap, BTreeSet};

/// What the lines of one procedure mention, without the subtasks that it calls.
#[derive(Clone, Debug, Default)]
pub(super) struct Mentions {
    /// Steps that some `repeat` goes back to.
    pub(super) repeated: BTreeSet<String>,
    /// Steps that some `wait … since` counts from.
    pub(super) since: BTreeSet<String>,
    /// What conditions ask for: `noise` in `when noise is yes`.
    pub(super) asked: BTreeSet<String>,
    /// Readings, each at its first line.
    pub(super) readings: BTreeMap<String, Span>,
    /// Named steps, each at its first line.
    pub(super) steps: BTreeMap<String, Span>,
    /// Subtasks that it calls.
    pub(super) calls: BTreeSet<String>,
    /// Whether any line asks for the series.
    pub(super) series: bool,
    /// Stretches of serial numbers that some line asks for.
    pub(super) serials: Vec<(Option<u64>, Option<u64>)>,
}

impl Mentions {
    /// All that a procedure mentions.
    pub(super) fn of(procedure: &Procedure) -> Self {
        let mut all = Self::default();
        procedure.headers.iter().for_each(|header| all.header(header));
        all.items(&procedure.items);
        all
    }

    fn header(&mut self, header: &Header) {
        match header {
            Header::For { condition, .. }
            | Header::Starts { condition, .. }
            | Header::Leaves { condition, .. } => self.condition(condition),
            Header::Title { .. }
            | Header::Revision { .. }
            | Header::Replaces { .. }
            | Header::Crew { .. } => {}
        }
    }

    fn items(&mut self, items: &[Item]) {
        for item in items {
            match item {
                Item::Section { items, .. }
                | Item::AnyOrder { items, .. }
                | Item::Group { items, .. }
                | Item::AtTheEnd { items, .. } => self.items(items),
                Item::Step(step) => self.step(step),
                Item::Act(act) => self.act(act),
                Item::When { condition, items, otherwise, .. } => {
                    self.condition(condition);
                    self.items(items);
                    self.items(otherwise);
                }
            }
        }
    }

    fn step(&mut self, step: &Step) {
        if let Some(name) = &step.name {
            self.steps.entry(name.text.clone()).or_insert(name.span);
        }
        step.clauses.iter().for_each(|clause| self.clause(clause));
        self.items(&step.items);
    }

    fn act(&mut self, act: &Act) {
        if let Some(name) = reading_of(act) {
            self.readings.entry(name.text.clone()).or_insert(name.span);
        }
        if act.verb.text == "do"
            && let Some(Object::Name(name)) = act.objects.first()
        {
            self.calls.insert(name.text.clone());
        }
        act.clauses.iter().for_each(|clause| self.clause(clause));
        match &act.body {
            Body::None => {}
            Body::Verdict { otherwise, .. } => {
                if let Some(outcome) = otherwise {
                    self.outcome(outcome);
                }
            }
            Body::Arms { arms, .. } => arms.iter().for_each(|arm| self.outcome(&arm.outcome)),
        }
    }

    fn clause(&mut self, clause: &Clause) {
        match &clause.value {
            ClauseValue::Names(names) if clause.word.text == "since" => {
                self.since.extend(names.iter().map(|name| name.text.clone()));
            }
            ClauseValue::Condition(condition) => self.condition(condition),
            ClauseValue::Outcome(outcome) => self.outcome(outcome),
            ClauseValue::Names(_)
            | ClauseValue::Text(_)
            | ClauseValue::Limit(_)
            | ClauseValue::Definition { .. }
            | ClauseValue::Target { .. }
            | ClauseValue::Set(_)
            | ClauseValue::Despite { .. } => {}
        }
    }

    fn outcome(&mut self, outcome: &Outcome) {
        self.items(&outcome.items);
        if let Some(End::Repeat { step, failing, .. }) = &outcome.end {
            self.repeated.insert(step.text.clone());
            if let Some(outcome) = failing {
                self.outcome(outcome);
            }
        }
    }

    fn condition(&mut self, condition: &Condition) {
        match condition {
            Condition::Is { subject, .. } => {
                self.asked.insert(subject.text.clone());
            }
            Condition::Series { .. } => self.series = true,
            Condition::Serial { from, to, .. } => {
                let number = |end: &Option<locknut_syntax::tree::Number>| {
                    end.as_ref().and_then(|number| number.text.parse().ok())
                };
                self.serials.push((number(from), number(to)));
            }
            Condition::Not(inner, _) => self.condition(inner),
            Condition::And(parts, _) | Condition::Or(parts, _) => {
                for part in parts {
                    self.condition(part);
                }
            }
            Condition::Within { .. } | Condition::Each { .. } | Condition::Mark { .. } => {}
        }
    }
}

/// The name of the reading that an act takes, computes or chooses.
pub(super) fn reading_of(act: &Act) -> Option<&Name> {
    match (act.verb.text.as_str(), act.objects.first()?) {
        ("measure" | "count" | "observe" | "choose", Object::Name(name))
        | ("check", Object::Definition { name, .. })
        | ("record", Object::Typed { name, .. }) => Some(name),
        _ => None,
    }
}
