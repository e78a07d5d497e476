//! The tree: what an author wrote, with the place of every piece.
//!
//! Acts have one shape (verb, objects, clauses, body), so a new verb needs no new grammar.
//! Numbers keep their spelling; nothing is resolved or computed here.

mod act;
mod declare;
mod inside;
mod table;
mod template;
mod value;

pub use act::{
    Accept, Act, Answers, Arm, Body, Clause, ClauseValue, End, Guard, Item, Lane, Object, Outcome,
    Row, Set, Step, Substitute,
};
pub use declare::{
    Attribute, Declaration, ElementAct, ElementLine, Formula, Header, Model, ModelItem, Part,
    Procedure, Thing, UnitDeclaration, Vocabulary,
};
pub use table::{Table, TableRow};
pub use template::{Place, Template, TemplateLine};
pub use value::{
    Condition, Expression, GREATEST_POWER, Limit, LimitForm, Name, Number, Operator, Piece,
    Quantity, Text,
};

use locknut_finding::Span;

/// One file: its declarations in written order, and the comments the formatter must keep.
#[derive(Clone, Debug, Default)]
pub struct Tree {
    /// Top-level declarations; a broken one is left out and has a finding.
    pub declarations: Vec<Declaration>,
    /// A declaration could not be read: what is missed anywhere may stand there.
    pub broken: bool,
    /// `// …` and `/// …`, in written order.
    pub comments: Vec<Comment>,
}

/// A comment, without its slashes.
#[derive(Clone, Debug)]
pub struct Comment {
    /// What it says.
    pub text: String,
    /// Whether it is a `///`, which belongs to what follows.
    pub doc: bool,
    /// From the first slash to the end of the line.
    pub span: Span,
}
