//! Items of a procedure: sections, steps, acts, outcomes.

use super::{Condition, Expression, Limit, Name, Number, Quantity, Text};
use locknut_finding::Span;

/// What stands in a procedure, section, step or block.
#[derive(Clone, Debug)]
pub enum Item {
    /// `section "Make safe" { … }`
    Section { title: Text, items: Vec<Item>, span: Span },
    /// `step gap "…" by … { … }`
    Step(Step),
    /// Any act, built in or of the vocabulary; notes too.
    Act(Act),
    /// `any order { … }`: children are steps, acts and groups.
    AnyOrder { items: Vec<Item>, span: Span },
    /// `together { fitter { … } mate { … } }`; `strays` stand in it and are no lanes.
    Together { lanes: Vec<Lane>, strays: Vec<Item>, span: Span },
    /// `without a break { … }`
    Unbroken { items: Vec<Item>, span: Span },
    /// `at each pad of pad-bolts { … }`: once for each point, which `pad` stands for.
    AtEach { point: Name, of: Name, items: Vec<Item>, span: Span },
    /// `{ … }` inside `any order`: done as a whole.
    Group { items: Vec<Item>, span: Span },
    /// `when COND { … } otherwise { … }`
    When { condition: Box<Condition>, items: Vec<Item>, otherwise: Vec<Item>, span: Span },
    /// `at the end …`: one item, or a block of them.
    AtTheEnd { items: Vec<Item>, span: Span },
}

/// What one person does beside another.
#[derive(Clone, Debug)]
pub struct Lane {
    /// Whose lane it is.
    pub role: Name,
    /// In written order.
    pub items: Vec<Item>,
    /// All of it.
    pub span: Span,
}

/// A numbered step.
#[derive(Clone, Debug)]
pub struct Step {
    /// The name by which other lines speak of it.
    pub name: Option<Name>,
    /// What the author says of it.
    pub text: Option<Text>,
    /// `by`, `takes`, `needs`, `despite`.
    pub clauses: Vec<Clause>,
    /// Acts, `when`, `any order`, notes; in written order.
    pub items: Vec<Item>,
    /// From `step` to the end of its text or name.
    pub head: Span,
    /// All of it.
    pub span: Span,
}

/// Verb, objects, clauses, body.
#[derive(Clone, Debug)]
pub struct Act {
    /// `remove`, `measure`, `set`, `wait`, `do`, `note`, `not`, …
    pub verb: Name,
    /// What it acts on or speaks of, parted by commas; a quantity or sense may follow a name.
    pub objects: Vec<Object>,
    /// In written order, those from after the block (`}, answers …`) too.
    pub clauses: Vec<Clause>,
    /// What follows from a reading.
    pub body: Body,
    /// All of it.
    pub span: Span,
}

/// What an act is done to.
#[derive(Clone, Debug)]
pub enum Object {
    /// `cover-bolts`; also words of sense: `clockwise`.
    Name(Name),
    /// `"Does the jib slew without noise?"`
    Text(Text),
    /// `10 min`, `2 turns`, or a named value used as one.
    Quantity(Box<Quantity>),
    /// `spread = max(gap) - min(gap)` of `check`.
    Definition { name: Name, value: Box<Expression> },
    /// `up to 3 of shim` of `choose`.
    UpTo { most: Number, name: Name },
    /// `engine-number : serial` of `record`.
    Typed { name: Name, kind: Name },
}

/// A clause of an act, step, or declaration.
#[derive(Clone, Debug)]
pub struct Clause {
    /// Its word: `using`, `with`, `by`, `at`, `expect`, `proves`, `makes`, `needs`, `takes`,
    /// `prefer`, `from`, `since`, `because`, `so`, `where`, `noting`, `to`, `then` (a further
    /// stage), `until` (until a step is done), `independent` (of steps), `turned`, `per`, `usually`, `seen` (seen from), `despite`, `otherwise`.
    pub word: Name,
    /// What follows the word.
    pub value: ClauseValue,
    /// All of it.
    pub span: Span,
}

/// What follows a clause word; the word decides which of these it is.
#[derive(Clone, Debug)]
pub enum ClauseValue {
    /// `using`, `with`, `by`, `at`, `since`, `until`, `independent`, `prefer`, `each` (each once): names parted by commas.
    Names(Vec<Name>),
    /// `because`, `noting`, `per`, `seen from`.
    Text(Text),
    /// `expect`, `usually`, `to 22 ± 2 N·m`, `with 5 N`, `takes 5 .. 10 .. 20 min`, `turned 45°`,
    /// `prefer nearest Q` (the limit is `Just`).
    Limit(Box<Limit>),
    /// `needs`, `makes`, `proves`, `unless`, `while`.
    Condition(Box<Condition>),
    /// `where left-over = mean(gap) - shim`
    Definition { name: Name, value: Box<Expression> },
    /// `so that left-over is 0.10 .. 0.45 mm`
    Target { name: Name, limit: Box<Limit> },
    /// `from shim-kit`
    Set(Box<Set>),
    /// `despite LN612 because "…"`
    Despite { code: Name, because: Option<Text> },
    /// `otherwise …` of a `choose` without a block.
    Outcome(Box<Outcome>),
}

/// What a choice is taken from.
#[derive(Clone, Debug)]
#[expect(clippy::large_enum_variant, reason = "a tree is built once and walked by reference")]
pub enum Set {
    /// A consumable's sizes.
    Named(Name),
    /// `0.20, 0.30, 0.50 mm`
    List(Vec<Quantity>),
    /// `2.00 .. 3.20 mm in steps of 0.05 mm`
    Steps { from: Quantity, to: Quantity, step: Quantity },
}

/// What stands in the braces of an act.
#[derive(Clone, Debug)]
pub enum Body {
    /// No braces.
    None,
    /// `accept …`, `or using …` and `otherwise …`
    Verdict {
        accept: Option<Box<Accept>>,
        substitutes: Vec<Substitute>,
        otherwise: Option<Box<Outcome>>,
        span: Span,
    },
    /// `at most 0.2 mm -> go on`, one a line.
    Arms { arms: Vec<Arm>, span: Span },
    /// `choose shim by gap { at most 0.60 mm -> 0.20 mm }`: `by` is the reading, rows one a line.
    Table { by: Box<Expression>, rows: Vec<Row>, span: Span },
}

/// One row of a table: which part belongs to which readings.
#[derive(Clone, Debug)]
pub struct Row {
    /// The readings.
    pub guard: Guard,
    /// The part.
    pub part: Quantity,
    /// All of it.
    pub span: Span,
}

/// `accept LIMIT, per "source"`
#[derive(Clone, Debug)]
pub struct Accept {
    /// What is accepted.
    pub limit: Limit,
    /// `guarded` or `as read`: how it decides; none: as the library does.
    pub rule: Option<Name>,
    /// `undecided counts as outside`, where it stands.
    pub undecided: Option<Span>,
    /// Where the figure comes from.
    pub per: Option<Text>,
    /// All of it.
    pub span: Span,
}

/// What may be read where the instrument of a line is not at hand.
#[derive(Clone, Debug)]
pub struct Substitute {
    /// Whether it reads the line's own quantity: `or using X accept …`, not `or measure NAME …`.
    pub same: bool,
    /// It as a line of its own; of the same quantity, it has the line's name.
    pub act: Act,
    /// What is done before it is read.
    pub items: Vec<Item>,
    /// What it can tell, in its author's words.
    pub answers: Option<Answers>,
    /// All of it.
    pub span: Span,
}

/// `answers low only noting "…"`
#[derive(Clone, Debug)]
pub struct Answers {
    /// The words behind `answers`: `low`, `only`.
    pub sides: Vec<Name>,
    /// What is printed and recorded of the side that is left open.
    pub noting: Option<Text>,
    /// All of it.
    pub span: Span,
}

/// One arm of a reading.
#[derive(Clone, Debug)]
pub struct Arm {
    /// When it is taken.
    pub guard: Guard,
    /// How its ends decide: `guarded` or `as read`.
    pub rule: Option<Name>,
    /// What then.
    pub outcome: Outcome,
    /// All of it.
    pub span: Span,
}

/// When an arm is taken.
#[derive(Clone, Debug)]
pub enum Guard {
    /// `over 0.2 to 0.5 mm`
    Limit(Box<Limit>),
    /// `yes`, `dry or damp`
    Words(Vec<Name>),
}

/// The one shape of every outcome: `[block or do SUBTASK] [then] END`.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// The acts of the block, or the one `do`.
    pub items: Vec<Item>,
    /// Left out: `go on` where there are acts.
    pub end: Option<End>,
    /// All of it.
    pub span: Span,
}

/// Where an outcome leads.
#[derive(Clone, Debug)]
pub enum End {
    /// `go on [noting "…"]`
    GoOn { noting: Option<Text>, span: Span },
    /// `repeat STEP up to n times, failing that END`
    Repeat { step: Name, times: Option<Box<Number>>, failing: Option<Box<Outcome>>, span: Span },
    /// `refer to "…"`
    Refer { to: Text, span: Span },
    /// `stop "…"`
    Stop { text: Text, span: Span },
    /// `done`
    Done { span: Span },
}

impl End {
    /// Where it stands.
    pub fn span(&self) -> Span {
        match self {
            Self::GoOn { span, .. }
            | Self::Repeat { span, .. }
            | Self::Refer { span, .. }
            | Self::Stop { span, .. }
            | Self::Done { span } => *span,
        }
    }
}
