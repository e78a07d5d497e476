//! Acts: what is done or read at a node, what it needs, what it brings about.

use crate::{
    Capability, Condition, Expression, Prose, SourcedLimit, StepId, Table, VariableId, Words,
};
use locknut_finding::Span;
use locknut_quantity::{Exact, Grid, KindId, Limit, Quantity, Range, UnitId};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// A reading, by its position in [`crate::StepGraph::readings`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ReadingId(pub u16);

/// A hazard, by its position in [`crate::StepGraph::hazards`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct HazardId(pub u16);

/// One act.
#[derive(Clone, Debug)]
pub struct Act {
    /// What kind of line it is.
    pub kind: ActKind,
    /// What must hold just before it.
    pub assertions: Vec<Assertion>,
    /// How it is said.
    pub line: Line,
    /// Hazards `at` the thing it acts on, its fasteners or what is behind it.
    pub touches: Vec<HazardId>,
    /// Tools it is done with, by position in [`crate::StepGraph::tools`].
    pub tools: Vec<usize>,
    /// The instrument it is done with, by position in [`crate::StepGraph::instruments`].
    pub instrument: Option<usize>,
    /// What an instrument that applies (a torque wrench) is set to.
    pub applies: Vec<Limit>,
    /// What is known of the fasteners that it tightens.
    pub tightening: Option<Box<crate::Tightening>>,
    /// Lines of caution that belong to it: sealed parts, `not "…"`.
    pub cautions: Vec<Line>,
    /// What its limits are held with, where it has some that a number is held against.
    pub capability: Vec<Capability>,
    /// What it is read in the place of, where it is a substitute.
    pub substitute: Option<Box<Substitute>>,
    /// What is left of readings that it rests on, where the lines above have sent some of what may be read away.
    pub settled: BTreeMap<ReadingId, Range>,
}

/// What an act is read in the place of.
#[derive(Clone, Debug)]
pub struct Substitute {
    /// The reading that it stands for.
    pub of: ReadingId,
    /// The instrument of that reading, by position in [`crate::StepGraph::instruments`].
    pub instrument: Option<usize>,
    /// It reads another quantity: that this tells anything of the first is its author's word.
    pub other: bool,
    /// The sides of that reading's limit that it leaves open.
    pub open: Vec<Side>,
    /// The question which instrument is at hand, where nothing is done between it and this: from an undecided
    /// reading the job goes back to it, and finds everything as it was.
    pub again: Option<crate::NodeId>,
    /// The line of it.
    pub span: Span,
}

/// A side of a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// The value is too low.
    Low,
    /// The value is too high.
    High,
}

impl Side {
    /// As it is written.
    pub fn word(self) -> &'static str {
        match self {
            Self::Low => "low",
            Self::High => "high",
        }
    }
}

/// Phrases of lines that ask for a name.
const SIGNATURES: &[&str] = &["act-sign", "act-sign-apart", "act-sign-apart-all"];

impl Act {
    /// In which role somebody puts a name to it, where it is a signature.
    pub fn signed_as(&self) -> Option<&Words> {
        let Some(LineValue::Words(role)) = self.line.values.get("who") else { return None };
        Some(role).filter(|_| SIGNATURES.contains(&self.line.phrase.as_str()))
    }

    /// The steps that whoever puts a name to it cannot have done.
    pub fn signed_apart_from(&self) -> Vec<StepId> {
        match (self.line.values.get("step"), self.line.values.get("steps")) {
            _ if self.signed_as().is_none() => Vec::new(),
            (Some(LineValue::Step(step)), _) => vec![*step],
            (_, Some(LineValue::Steps(steps))) => steps.clone(),
            _ => Vec::new(),
        }
    }

    /// The guarded limit that may leave its reading undecided, so that the job waits here for a better instrument.
    pub fn waits_undecided(&self) -> Option<&crate::SourcedLimit> {
        let ActKind::Measure { verdict: Verdict::Accept { limit, .. }, .. } = &self.kind else {
            return None;
        };
        let asked_again =
            self.substitute.as_ref().is_some_and(|substitute| substitute.again.is_some());
        let may_be = limit.guard.as_ref().is_some_and(crate::Guard::may_be_undecided);
        Some(limit).filter(|_| may_be && !asked_again)
    }

    /// An act that asks for nothing and is done with nothing.
    pub fn of(kind: ActKind, line: Line) -> Self {
        Self {
            kind,
            assertions: Vec::new(),
            line,
            touches: Vec::new(),
            tools: Vec::new(),
            instrument: None,
            applies: Vec::new(),
            tightening: None,
            cautions: Vec::new(),
            capability: Vec::new(),
            substitute: None,
            settled: BTreeMap::new(),
        }
    }
}

/// What is asked of the person at an act.
#[derive(Clone, Debug)]
pub enum ActKind {
    /// Done: a tick.
    Do,
    /// Must be so, else the job waits: a tick.
    Confirm,
    /// Time passes; `since` that moment, else from now.
    Wait { seconds: Exact, duration: Quantity, since: Option<Moment> },
    /// Values by an instrument, one a point.
    Measure { reading: ReadingId, expect: Option<Limit>, verdict: Verdict },
    /// A whole number.
    Count { reading: ReadingId, expect: Option<Limit>, verdict: Verdict },
    /// An answer out of a few.
    Observe { reading: ReadingId, question: Option<Prose>, verdict: Verdict },
    /// Something to write down: serial, date, text, counter.
    Record { reading: ReadingId },
    /// Computed from readings; `rounded`: it may have more digits than it is shown with.
    Check { reading: ReadingId, value: Expression, verdict: Verdict, rounded: bool },
    /// A size or part chosen by readings.
    Choose(Choice),
}

impl Act {
    /// The tables that it looks something up in, each once.
    pub fn tables(&self) -> Vec<&Arc<Table>> {
        let mut tables: Vec<&Arc<Table>> = Vec::new();
        for table in self.kind.worked_out().into_iter().flat_map(Expression::tables) {
            if !tables.contains(&table) {
                tables.push(table);
            }
        }
        tables
    }
}

impl ActKind {
    /// What is worked out at it from earlier readings: its value, and the ends of its limit.
    pub fn worked_out(&self) -> Vec<&Expression> {
        let mut all = match self {
            Self::Check { value, .. } => vec![value],
            Self::Choose(choice) => vec![&choice.value],
            Self::Do
            | Self::Confirm
            | Self::Wait { .. }
            | Self::Measure { .. }
            | Self::Count { .. }
            | Self::Observe { .. }
            | Self::Record { .. } => Vec::new(),
        };
        if let Some(Verdict::Accept { computed: Some(ends), .. }) = self.verdict() {
            all.extend(ends.lower.iter().chain(&ends.upper).map(|(end, _)| end));
        }
        all
    }

    /// What follows from its reading, where something may.
    pub fn verdict(&self) -> Option<&Verdict> {
        match self {
            Self::Measure { verdict, .. }
            | Self::Count { verdict, .. }
            | Self::Observe { verdict, .. }
            | Self::Check { verdict, .. } => Some(verdict),
            Self::Do
            | Self::Confirm
            | Self::Wait { .. }
            | Self::Record { .. }
            | Self::Choose(_) => None,
        }
    }

    /// The reading that it takes.
    pub fn reading(&self) -> Option<ReadingId> {
        match self {
            Self::Measure { reading, .. }
            | Self::Count { reading, .. }
            | Self::Observe { reading, .. }
            | Self::Record { reading }
            | Self::Check { reading, .. } => Some(*reading),
            Self::Choose(choice) => Some(choice.reading),
            Self::Do | Self::Confirm | Self::Wait { .. } => None,
        }
    }

    /// Readings that it rests on, its own aside.
    pub fn rests_on(&self) -> BTreeSet<ReadingId> {
        let mut used: BTreeSet<ReadingId> =
            self.worked_out().into_iter().flat_map(Expression::readings).collect();
        if let Some(own) = self.reading() {
            used.remove(&own);
        }
        used
    }

    /// The range that its values are expected in.
    pub fn expect(&self) -> Option<&Limit> {
        match self {
            Self::Measure { expect, .. } | Self::Count { expect, .. } => expect.as_ref(),
            Self::Do
            | Self::Confirm
            | Self::Wait { .. }
            | Self::Observe { .. }
            | Self::Record { .. }
            | Self::Check { .. }
            | Self::Choose(_) => None,
        }
    }
}

impl Verdict {
    /// Its arms; empty where it has none.
    pub fn arms(&self) -> &[ActArm] {
        if let Self::Arms(arms) = self { arms } else { &[] }
    }
}

/// What follows from a reading. The ways out of its node are [`crate::Way::Accepted`] and
/// `Otherwise`, or `Arm(i)`, or `Next`.
#[derive(Clone, Debug)]
#[expect(
    clippy::large_enum_variant,
    reason = "few of them, and each is looked into more often than moved"
)]
pub enum Verdict {
    /// Nothing: it is used later.
    None,
    /// Accepted inside, otherwise outside; on several points each is judged.
    Accept { limit: SourcedLimit, computed: Option<ComputedLimit> },
    /// One arm for each outcome.
    Arms(Vec<ActArm>),
}

/// A limit whose ends are computed from earlier readings.
#[derive(Clone, Debug)]
pub struct ComputedLimit {
    /// The least, and whether it belongs.
    pub lower: Option<(Expression, bool)>,
    /// The greatest, and whether it belongs.
    pub upper: Option<(Expression, bool)>,
}

/// An arm of a reading.
#[derive(Clone, Debug)]
pub struct ActArm {
    /// For numbers: what it covers.
    pub range: Option<Limit>,
    /// What its author wrote, where the guard of an arm has moved an end of it.
    pub whole: Option<Limit>,
    /// For observations: positions among the reading's answers.
    pub answers: Vec<u8>,
    /// As written: `over 0.2 to 0.5 mm`, `oily`.
    pub written: String,
    /// Where.
    pub span: Span,
}

/// A reading: measured, counted, observed, recorded, computed or chosen.
#[derive(Clone, Debug)]
pub struct Reading {
    /// As said: "gap".
    pub words: Words,
    /// What it is.
    pub kind: ReadingKind,
    /// Its points; empty for one value.
    pub points: Vec<Words>,
    /// Where the lines around are done, in a subtask or a block at a point: another of its name is read elsewhere.
    pub at: Vec<Words>,
    /// Where it is declared.
    pub span: Span,
}

impl Reading {
    /// Which of several of its name it is: where the lines around are done, and its own point where it has but one.
    pub fn places(&self) -> Vec<&Words> {
        let own = if let [only] = self.points.as_slice() { Some(only) } else { None };
        self.around(own).into_iter().chain(own).collect()
    }

    /// Where the lines around are done, apart from a point of its own.
    pub fn around(&self, own: Option<&Words>) -> Vec<&Words> {
        self.at.iter().filter(|place| Some(*place) != own).collect()
    }
}

/// What a reading is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ReadingKind {
    /// A quantity, read or computed, shown in this unit with so many digits.
    Quantity { kind: KindId, unit: UnitId, decimals: u32 },
    /// One of these answers.
    Answer { answers: Vec<Words>, variable: Option<VariableId> },
    /// A serial number.
    Serial,
    /// A date.
    Date,
    /// Free text.
    Text,
}

/// A choice: the member of `set` for which `target` lies in `range`.
#[derive(Clone, Debug)]
pub struct Choice {
    /// What is chosen, as a reading.
    pub reading: ReadingId,
    /// The sizes that there are, with their part numbers, ascending.
    pub sizes: Vec<(Quantity, Option<String>)>,
    /// The consumable whose sizes they are.
    pub stock: Option<Words>,
    /// What may be chosen, ascending: each size, or each sum to which sizes can be stacked.
    pub set: Vec<Member>,
    /// How many sizes may be stacked; none: one is taken.
    pub stacked: Option<Stacked>,
    /// The name of the result, e.g. "left-over".
    pub target: Words,
    /// The result; `reading` in it is the member tried.
    pub value: Expression,
    /// Where it must lie.
    pub range: Limit,
    /// Which of several that fit.
    pub prefer: Prefer,
    /// Whether there is an `otherwise` for readings where nothing fits.
    pub otherwise: bool,
    /// What all must be covered: `usually`; none: all of *expect*.
    pub usually: Option<Limit>,
    /// The table form: rows by a reading, already exact. Empty for the form with `so that`.
    pub rows: Vec<(Limit, usize)>,
    /// The one number that the fitter works out to look up the member by, where there is such a number.
    pub key: Option<Box<ChoiceKey>>,
    /// Where it is written.
    pub span: Span,
}

/// What is left of the result of a choice without its member, where that is worked out and has few digits:
/// `result = counts × value + weight × member`.
#[derive(Clone, Debug)]
pub struct ChoiceKey {
    /// How it is worked out.
    pub value: Expression,
    /// What it counts for in the result: 1, or −1 where it is taken off.
    pub counts: Exact,
    /// What the member counts for in the result.
    pub weight: Exact,
    /// The figures that it may come to.
    pub grid: Grid,
    /// From the least to the greatest.
    pub range: Range,
    /// What it is told in.
    pub unit: UnitId,
    /// With so many digits after the point none of them is rounded.
    pub decimals: u32,
}

/// What may be chosen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Member {
    /// The size; of a stack its sum.
    pub size: Quantity,
    /// Positions of its pieces among the sizes, the greatest first.
    pub pieces: Vec<usize>,
}

/// `up to 3 of … each once`
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stacked {
    /// At most so many pieces.
    pub most: usize,
    /// Whether no size is taken twice.
    pub each_once: bool,
}

/// Which of several that fit is taken; a tie takes the smaller member.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Prefer {
    /// The smallest member.
    Smallest,
    /// The largest member.
    Largest,
    /// The one whose result is nearest to this.
    Nearest(Quantity),
    /// The one of the fewest pieces.
    Fewest,
}

/// Something that must hold just before an act; it never blocks, it is a fault where it fails.
#[derive(Clone, Debug)]
pub struct Assertion {
    /// What must hold.
    pub condition: Condition,
    /// Who asks for it.
    pub because: Because,
    /// In words: "brake cover is removed".
    pub written: String,
    /// The line that asks for it.
    pub span: Span,
}

/// Who asks for an assertion.
#[derive(Clone, Debug)]
pub enum Because {
    /// `needs …` written at the act or its step.
    Needs,
    /// The element's own act starts only from some values ("only slack or snug bolts are tightened").
    Element { thing: Words },
    /// There is one of a special tool: the points at which this puts it in, and another at which it still is in.
    OneTool { tool: Words, here: Vec<Words>, still_in: Option<Words> },
    /// A relation: the thing stands behind, is fastened by, …
    Relation { relation: String, thing: Words, other: Words },
    /// Once off it may not go back.
    SingleUse { part: Words },
    /// No procedure may act on it.
    Sealed { part: Words, because: Prose, otherwise: Option<String> },
    /// A lock bars the state at this value.
    Lock { lock: Words },
    /// A connector that must be dead.
    Dead { thing: Words },
    /// `never ACT unless … because …`
    Never { because: Prose },
    /// A subtask's `starts with`.
    StartsWith { subtask: String },
    /// `proves S is v`: the path must have made it so.
    MadeSo,
    /// It would have to be so whatever these states are, if a reading has denied them: each with the variable that
    /// tells so.
    Denied { states: Vec<(VariableId, VariableId)> },
    /// The hands of whoever does it are taken by a hold; `who` none: everybody's are.
    Hands { who: Option<Words>, thing: Words },
    /// `change S : a -> b`: the state comes to this value only from some others.
    Change { state: Words },
    /// Declared oiled, or in another condition that something brings about, and not so since it was taken out or new;
    /// `by`: what something does that makes it so, as `oils`.
    Oiled { thing: Words, condition: String, by: String },
}

/// What an act or a way out of it brings about, in order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Effect {
    /// Writes a variable; clears its proved bit and its waited time.
    Set { variable: VariableId, value: u8 },
    /// Sets the proved bit of a variable.
    Prove { variable: VariableId },
    /// So many seconds pass for certain.
    Wait { seconds: Exact },
    /// That moment lies at least so many seconds back.
    WaitSince { seconds: Exact, moment: Moment },
    /// A moment from which some wait counts.
    Mark { moment: Moment },
    /// A reading is taken.
    Take { reading: ReadingId },
    /// A repeat makes these void.
    Void { readings: Vec<ReadingId>, proofs: Vec<VariableId> },
    /// The rounds of a repeat count afresh.
    Afresh { repeat: crate::RepeatId },
    /// Every block around is left as it stands: `done` ends the work for all.
    LeaveBlocks,
}

impl Effect {
    /// The value that it gives to a variable, where it does.
    pub fn sets(&self, variable: crate::VariableId) -> Option<u8> {
        match self {
            Self::Set { variable: set, value } => Some(*value).filter(|_| *set == variable),
            Self::Prove { .. }
            | Self::Wait { .. }
            | Self::WaitSince { .. }
            | Self::Mark { .. }
            | Self::Take { .. }
            | Self::Void { .. }
            | Self::Afresh { .. }
            | Self::LeaveBlocks => None,
        }
    }
}

/// A moment from which a wait counts; the last time it was passed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Moment {
    /// The end of a step: `wait … since`.
    StepEnd(StepId),
    /// The beginning of a wait beside another person, who may write in the meantime.
    WaitBegin(StepId),
}

/// How an act is said: a phrase with its values.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Line {
    /// The key in the phrase tables, e.g. `bolts-tighten`.
    pub phrase: String,
    /// Named values of the phrase.
    pub values: BTreeMap<String, LineValue>,
    /// Where it is written.
    pub span: Span,
}

/// A value in a phrase.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LineValue {
    /// A thing by its name.
    Words(Words),
    /// Several things.
    List(Vec<Words>),
    /// In the reader's units.
    Quantity(Quantity),
    /// In the reader's units, never outside itself.
    Limit(Limit),
    /// Author's text.
    Prose(Prose),
    /// A count.
    Number(u64),
    /// Stages of a tightening, each a phrase of its own (`stage-torque`, `stage-angle`).
    Stages(Vec<Line>),
    /// A reading by name.
    Reading(ReadingId),
    /// A step by its number.
    Step(StepId),
    /// Several steps by their numbers.
    Steps(Vec<StepId>),
    /// A piece of text that needs no translation (numbers, designations).
    Text(String),
}
