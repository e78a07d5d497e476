//! The step graph: the acts of one procedure with their continuations, and questions about them.
//!
//! This is the waist of the house. Left of it is the language; right of it nobody has heard of it:
//! proofs, job and outputs see a small closed set of effects (set a state, prove it, let time pass,
//! take a reading, branch, repeat, end). Subtasks are already laid in where they are called.
//!
//! Two views of the same thing: [`StepGraph::flow`] is what may follow what (a petgraph graph of
//! [`Node`]s), [`StepGraph::outline`] is how it is written and printed. Both speak of the same nodes.
//!
//! *It does not know* the syntax, the vocabulary, files, languages of a reader, or any layout.

#![expect(
    missing_docs,
    reason = "fields of variants are named for what they hold; all else is documented"
)]

mod act;
mod condition;
mod expression;
mod flow;
mod joint;
mod load;
mod machine;
mod metrology;
mod outline;
mod prose;
mod table;
mod template;
mod walk;

pub use act::{
    Act, ActArm, ActKind, Assertion, Because, Choice, ChoiceKey, ComputedLimit, Effect, HazardId,
    Line, LineValue, Member, Moment, Prefer, Reading, ReadingId, ReadingKind, Side, Stacked,
    Substitute, Verdict,
};
pub use condition::{Condition, Test};
pub use expression::{Expression, Fold, Operator};
pub use flow::{
    Edge, End, NeverTaken, Node, NodeId, NodeKind, Repeat, RepeatId, StepGraph, Verb, Verbs, Way,
};
pub use joint::{
    Friction, Head, Layout, Pattern, Prevailing, Stage, Strength, Thread, Tightening, angle,
};
pub use load::{At, Carries, Lever, Load, Pull, Share, Stand, Unshared};
pub use machine::{
    Applies, Hazard, HazardPlace, Heading, Instrument, Interlock, Material, Restore, Signal,
    SourcedLimit, Surely, Tool, Value, Variable, VariableId, VariableKind,
};
pub use metrology::{
    Band, Capability, Causes, Doubt, Guard, InstrumentError, Judgement, Metrology, Rule, Steps,
    judge, ratio_said, steps,
};
pub use outline::{By, Leads, Outline, OutlineArm, OutlineLane, Step, StepId};
pub use petgraph::graph::DiGraph;
pub use petgraph::visit::EdgeRef;
pub use prose::{Prose, ProsePiece, Words};
pub use table::{Between, Odd, Table, TableEnd, is_far_off, odd};
pub use template::{
    Cut, CutForm, Feature, FeatureShape, Paper, Placing, Template, TemplateLabel, TemplateOutline,
    TemplateSide,
};
pub use walk::{Lane, Marking, Open};
