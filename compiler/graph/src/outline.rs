//! How a procedure is written and printed.

use crate::{NodeId, Prose, Way, Words};
use locknut_finding::Span;
use locknut_quantity::Exact;

/// A step, by its position in [`crate::StepGraph::steps`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StepId(pub u16);

/// A numbered step.
#[derive(Clone, Debug)]
pub struct Step {
    /// Its number as printed: `4`; inside an outcome's block `4a.1`, inside a called subtask `4.1`.
    pub number: String,
    /// Its name in the source.
    pub name: Option<String>,
    /// What the author says of it.
    pub text: Option<Prose>,
    /// Who does it.
    pub by: By,
    /// Shortest, likely, longest, in seconds.
    pub takes: Option<(Exact, Exact, Exact)>,
    /// Where the graph enters it.
    pub first: NodeId,
    /// Where it stands.
    pub span: Span,
}

/// Who does a step.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum By {
    /// Whoever is free.
    #[default]
    Anyone,
    /// The whole crew.
    All,
    /// These roles.
    Roles(Vec<Words>),
}

/// A piece of the written procedure, in reading order.
#[derive(Clone, Debug)]
pub enum Outline {
    /// A titled stretch.
    Section { title: Prose, items: Vec<Outline>, span: Span },
    /// A numbered step.
    Step { step: StepId, items: Vec<Outline> },
    /// A line of an act: its node is a `NodeKind::Act`.
    Line { node: NodeId },
    /// What follows when a reading goes this way: acts, then where it leads.
    Outcome { node: NodeId, way: Way, items: Vec<Outline>, leads: Leads },
    /// `any order`: say so, then the children.
    AnyOrder { node: NodeId, items: Vec<Outline> },
    /// `together`: people side by side, a lane each.
    Together { node: NodeId, lanes: Vec<OutlineLane> },
    /// `without a break`: nobody leaves or hands over inside.
    Unbroken { items: Vec<Outline> },
    /// A freed group: done as a whole.
    Group { items: Vec<Outline> },
    /// `when`: the condition in words, then the arms.
    Branch { node: NodeId, arms: Vec<OutlineArm> },
    /// A called subtask, laid in: its title, the point that it is done at, and its steps.
    Call { title: Prose, at: Option<Words>, node: NodeId, items: Vec<Outline> },
    /// `note "…"`
    Note { text: Prose },
    /// `not "…"`: what this step is not.
    Not { text: Prose },
    /// `use template T`
    Template { words: Words },
    /// `at the end`: once before *done*.
    AtTheEnd { items: Vec<Outline> },
}

/// What one person does beside another.
#[derive(Clone, Debug)]
pub struct OutlineLane {
    /// Who.
    pub by: Words,
    /// What.
    pub items: Vec<Outline>,
}

/// An arm of a `when`.
#[derive(Clone, Debug)]
pub struct OutlineArm {
    /// `Arm(0)`: where the condition holds; `Arm(1)`: otherwise.
    pub way: Way,
    /// What is done.
    pub items: Vec<Outline>,
}

/// Where an outcome leads after its acts.
#[derive(Clone, Debug)]
pub enum Leads {
    /// On with the next line; with what is noted in the record.
    On { noting: Option<Prose> },
    /// Back to that step, so many times; failing that, further.
    Again { step: StepId, times: u32, failing: Box<(Vec<Outline>, Leads)> },
    /// The job ends: ask these people.
    Refer { to: Prose },
    /// The job ends.
    Stop { text: Prose },
    /// The job is done.
    Done,
    /// Where its lines lead: on, or out by a reading of theirs.
    Below,
    /// As where the reading at that node is not accepted.
    AsAt { node: NodeId },
}
