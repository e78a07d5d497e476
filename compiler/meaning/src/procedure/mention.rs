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
    /// What somebody holds until a named step is done, in written order.
    pub(super) holds: Vec<HoldMention>,
    /// The lane that a named step stands in, where people work side by side.
    pub(super) step_lanes: BTreeMap<String, LanePlace>,
    /// Subtasks that it calls.
    pub(super) calls: BTreeSet<String>,
    /// Whether any line asks for the series.
    pub(super) series: bool,
    /// Stretches of serial numbers that some line asks for.
    pub(super) serials: Vec<(Option<u64>, Option<u64>)>,
}

/// A lane of a block: the block by its place, and whose it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct LanePlace {
    block: Span,
    pub(super) role: String,
}

/// `hold P by ROLE until STEP is done`
#[derive(Clone, Debug)]
pub(super) struct HoldMention {
    pub(super) thing: Name,
    /// At which of its points.
    pub(super) at: Option<Name>,
    /// It stands in a block that is done at each point.
    pub(super) at_each: bool,
    /// Who, as the line, its step or its lane says; none where that is not one person.
    pub(super) by: Option<String>,
    pub(super) until: Name,
    pub(super) lane: Option<LanePlace>,
    pub(super) span: Span,
}

impl HoldMention {
    /// Whether it and its step stand in different lanes of one block, so that each waits for the other.
    pub(super) fn meets(&self, step: Option<&LanePlace>) -> bool {
        match (&self.lane, step) {
            (Some(own), Some(step)) => own.block == step.block && own.role != step.role,
            _ => false,
        }
    }
}

/// Where the gathering stands.
#[derive(Clone, Debug, Default)]
struct Around {
    lane: Option<LanePlace>,
    /// Who does the step around, as its head says.
    by: Option<String>,
    at_each: bool,
}

impl Mentions {
    /// All that a procedure mentions.
    pub(super) fn of(procedure: &Procedure) -> Self {
        let mut all = Self::default();
        procedure.headers.iter().for_each(|header| all.header(header));
        all.items(&procedure.items, &Around::default());
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
            | Header::Uses { .. }
            | Header::StartsUnknown { .. }
            | Header::Crew { .. } => {}
        }
    }

    fn items(&mut self, items: &[Item], around: &Around) {
        for item in items {
            match item {
                Item::Section { items, .. }
                | Item::AnyOrder { items, .. }
                | Item::Group { items, .. }
                | Item::Unbroken { items, .. }
                | Item::AtTheEnd { items, .. } => self.items(items, around),
                Item::AtEach { items, .. } => {
                    self.items(items, &Around { at_each: true, ..around.clone() });
                }
                Item::Together { lanes, strays, span } => {
                    for lane in lanes {
                        let place = LanePlace { block: *span, role: lane.role.text.clone() };
                        let by = Some(lane.role.text.clone());
                        self.items(
                            &lane.items,
                            &Around { lane: Some(place), by, ..around.clone() },
                        );
                    }
                    self.items(strays, around);
                }
                Item::Step(step) => self.step(step, around),
                Item::Act(act) => self.act(act, around),
                Item::When { condition, items, otherwise, .. } => {
                    self.condition(condition);
                    self.items(items, around);
                    self.items(otherwise, around);
                }
            }
        }
    }

    fn step(&mut self, step: &Step, around: &Around) {
        if let Some(name) = &step.name {
            self.steps.entry(name.text.clone()).or_insert(name.span);
            if let Some(lane) = &around.lane {
                self.step_lanes.entry(name.text.clone()).or_insert_with(|| lane.clone());
            }
        }
        step.clauses.iter().for_each(|clause| self.clause(clause, around));
        let by = one_role(&step.clauses).or_else(|| around.by.clone());
        self.items(&step.items, &Around { by, ..around.clone() });
    }

    fn hold(&mut self, act: &Act, around: &Around) {
        let until = act.clauses.iter().find(|clause| clause.word.text == "until");
        let until = until.and_then(|clause| names(clause).first());
        let at = act.clauses.iter().find(|clause| clause.word.text == "at");
        let at = at.and_then(|clause| names(clause).first());
        if let (Some(Object::Name(thing)), Some(until)) = (act.objects.first(), until) {
            self.holds.push(HoldMention {
                thing: thing.clone(),
                at: at.cloned(),
                at_each: around.at_each,
                by: one_role(&act.clauses).or_else(|| around.by.clone()),
                until: until.clone(),
                lane: around.lane.clone(),
                span: act.span,
            });
        }
    }

    fn act(&mut self, act: &Act, around: &Around) {
        if act.verb.text == "hold" {
            self.hold(act, around);
        }
        if let Some(name) = reading_of(act) {
            self.readings.entry(name.text.clone()).or_insert(name.span);
        }
        if act.verb.text == "do"
            && let Some(Object::Name(name)) = act.objects.first()
        {
            self.calls.insert(name.text.clone());
        }
        act.clauses.iter().for_each(|clause| self.clause(clause, around));
        match &act.body {
            Body::None | Body::Table { .. } => {}
            Body::Verdict { substitutes, otherwise, .. } => {
                for substitute in substitutes {
                    self.items(&substitute.items, around);
                    self.act(&substitute.act, around);
                }
                if let Some(outcome) = otherwise {
                    self.outcome(outcome, around);
                }
            }
            Body::Arms { arms, .. } => {
                for arm in arms {
                    self.outcome(&arm.outcome, around);
                }
            }
        }
    }

    fn clause(&mut self, clause: &Clause, around: &Around) {
        match &clause.value {
            ClauseValue::Names(names) if clause.word.text == "since" => {
                self.since.extend(names.iter().map(|name| name.text.clone()));
            }
            ClauseValue::Condition(condition) => self.condition(condition),
            ClauseValue::Outcome(outcome) => self.outcome(outcome, around),
            ClauseValue::Names(_)
            | ClauseValue::Text(_)
            | ClauseValue::Limit(_)
            | ClauseValue::Definition { .. }
            | ClauseValue::Target { .. }
            | ClauseValue::Set(_)
            | ClauseValue::Despite { .. } => {}
        }
    }

    fn outcome(&mut self, outcome: &Outcome, around: &Around) {
        self.items(&outcome.items, around);
        if let Some(End::Repeat { step, failing, .. }) = &outcome.end {
            self.repeated.insert(step.text.clone());
            if let Some(outcome) = failing {
                self.outcome(outcome, around);
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

/// The one person whom `by` names.
fn one_role(clauses: &[Clause]) -> Option<String> {
    let by = clauses.iter().find(|clause| clause.word.text == "by")?;
    match names(by) {
        [one] if one.text != "all" && one.text != "anyone" => Some(one.text.clone()),
        _ => None,
    }
}

fn names(clause: &Clause) -> &[Name] {
    if let ClauseValue::Names(names) = &clause.value { names } else { &[] }
}

/// The name of the reading that an act takes, computes or chooses.
pub(super) fn reading_of(act: &Act) -> Option<&Name> {
    match (act.verb.text.as_str(), act.objects.first()?) {
        ("measure" | "count" | "observe" | "choose", Object::Name(name))
        | ("choose", Object::UpTo { name, .. })
        | ("check", Object::Definition { name, .. })
        | ("record", Object::Typed { name, .. }) => Some(name),
        _ => None,
    }
}
