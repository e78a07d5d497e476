//! Top-level declarations: models, things, procedures, vocabulary.

use super::{Act, Clause, Condition, Expression, Item, Limit, Name, Number, Quantity, Text};
use locknut_finding::Span;

/// What stands at the top level of a file.
#[derive(Clone, Debug)]
pub enum Declaration {
    /// `model NAME { … }`
    Model(Model),
    /// `instrument`, `tool` or `consumable`.
    Thing(Thing),
    /// `procedure` or `subtask`.
    Procedure(std::sync::Arc<Procedure>),
    /// `value NAME = QUANTITY` or `limit NAME = LIMIT`.
    Limit { keyword: Name, name: Name, limit: Limit, doc: Option<String>, span: Span },
    /// `kind`, `unit`, `element`, `thread`, `strength`, `condition`, `effort`.
    Vocabulary(Vocabulary),
}

/// A model: what is worked on. Or an assembly, which models are made of.
#[derive(Clone, Debug)]
pub struct Model {
    /// `model` or `assembly`.
    pub keyword: Name,
    /// Its name.
    pub name: Name,
    /// What stands in it.
    pub items: Vec<ModelItem>,
    /// Some of it could not be read: what is missed here may stand there.
    pub broken: bool,
    /// What its `///` lines say.
    pub doc: Option<String>,
    /// All of it.
    pub span: Span,
}

/// A line of a model.
#[derive(Clone, Debug)]
pub enum ModelItem {
    /// `title "…"`
    Title { text: Text, span: Span },
    /// `made of A, B`, `made of A at left, right`
    MadeOf { assemblies: Vec<Name>, at: Vec<Name>, span: Span },
    /// `reading R : KIND needs COND makes COND, expect RANGE`
    Reading { name: Name, kind: Name, clauses: Vec<Clause>, span: Span },
    /// `series A, B, C`
    Series { values: Vec<Name>, span: Span },
    /// `serial number`
    Serial { span: Span },
    /// `value` or `limit`, seen by whatever stands on the model.
    Limit { keyword: Name, name: Name, limit: Limit, span: Span },
    /// `state supply : live, isolated`
    State { name: Name, values: Vec<Name>, doc: Option<String>, span: Span },
    /// `change supply : live -> isolated needs COND`
    Change { state: Name, from: Name, to: Name, needs: Vec<Clause>, span: Span },
    /// `bolts cover-bolts : 8 of M8 …`: `kind` is an element of the vocabulary.
    Element { kind: Name, name: Name, attributes: Vec<Attribute>, doc: Option<String>, span: Span },
    /// `never COND unless COND because "…"`
    NeverState { condition: Condition, clauses: Vec<Clause>, span: Span },
    /// `never turn slew-pinion while brake is closed because "…"`
    NeverAct { act: Act, span: Span },
    /// `danger "…" at THING while COND`
    Hazard { signal: Name, text: Text, at: Vec<Name>, condition: Option<Condition>, span: Span },
    /// `safe to leave when COND`
    SafeToLeave { condition: Condition, span: Span },
}

/// An instrument, tool or consumable.
#[derive(Clone, Debug)]
pub struct Thing {
    /// `instrument`, `tool` or `consumable`.
    pub keyword: Name,
    /// Its name.
    pub name: Name,
    /// The lines of its block; commas and line ends part them.
    pub attributes: Vec<Attribute>,
    /// What its `///` lines say.
    pub doc: Option<String>,
    /// All of it.
    pub span: Span,
}

/// One item of a comma list: `8 of M8 class 8.8 dry`, `fastens brake-cover`, `error 4 % of reading`.
#[derive(Clone, Debug)]
pub struct Attribute {
    /// Never empty.
    pub parts: Vec<Part>,
    /// All of it.
    pub span: Span,
}

/// A piece of an attribute.
#[derive(Clone, Debug)]
pub enum Part {
    /// Any word, clause words too; after `class` the designation: `8.8`, `A2-70`.
    Word(Name),
    /// A number with an optional unit, a range, or a tolerance.
    Limit(Limit),
    /// `"HC-4417"`
    Text(Text),
    /// What follows `when`, `while`, `until` or `unless`; the word itself comes before as `Word`.
    Condition(Condition),
}

/// A procedure or a subtask.
#[derive(Clone, Debug)]
pub struct Procedure {
    /// `procedure` or `subtask`.
    pub keyword: Name,
    /// Its name.
    pub name: Name,
    /// The model after `on`.
    pub on: Option<Name>,
    /// Title, revision and the like, in written order.
    pub headers: Vec<Header>,
    /// Its steps.
    pub items: Vec<Item>,
    /// Some of it could not be read: nothing is proved of the rest.
    pub broken: bool,
    /// What its `///` lines say: what it is for.
    pub doc: Option<String>,
    /// All of it.
    pub span: Span,
}

/// A line that says something of the whole procedure.
#[derive(Clone, Debug)]
pub enum Header {
    /// `title "…"`
    Title { text: Text, span: Span },
    /// `revision D of 2026-10-02`
    Revision { letter: Name, date: Option<Name>, span: Span },
    /// `replaces C because "…"`
    Replaces { letter: Name, because: Option<Text>, span: Span },
    /// `for series B or C`, `for serial from 2044`
    For { condition: Condition, span: Span },
    /// `crew fitter, mate`
    Crew { roles: Vec<Name>, span: Span },
    /// `uses gap, play`: readings of whoever calls the subtask
    Uses { readings: Vec<Name>, span: Span },
    /// `starts with supply unknown`
    StartsUnknown { state: Name, span: Span },
    /// `starts with COND`
    Starts { condition: Condition, span: Span },
    /// `leaves COND because "…"`
    Leaves { condition: Condition, because: Option<Text>, span: Span },
}

/// A word of the trade, declared in the language itself.
#[derive(Clone, Debug)]
pub enum Vocabulary {
    /// `kind temperature : differences temperature-difference`
    Kind { name: Name, attributes: Vec<Attribute>, doc: Option<String>, span: Span },
    /// `unit mm : length = 0.001 m, …`
    Unit(UnitDeclaration),
    /// `element bolts { … }`
    Element { name: Name, lines: Vec<ElementLine>, doc: Option<String>, span: Span },
    /// `formula NAME : KIND [in UNIT] of P : KIND, … = EXPR`
    Formula(Formula),
    /// `table NAME : KIND -> KIND { KEY -> LIMIT … }`
    Table(super::Table),
    /// `template NAME { rectangle … }`
    Template(super::Template),
    /// `thread`, `strength`, `condition` or `effort` with their attributes.
    Figure {
        keyword: Name,
        name: Name,
        attributes: Vec<Attribute>,
        doc: Option<String>,
        span: Span,
    },
}

/// A sum with one home, worked out from figures that a line hands in.
#[derive(Clone, Debug)]
pub struct Formula {
    /// Its name.
    pub name: Name,
    /// The kind of what it gives.
    pub kind: Name,
    /// The unit that its result is shown in.
    pub unit: Option<Name>,
    /// What it is worked out from, each with its kind.
    pub parameters: Vec<(Name, Name)>,
    /// How.
    pub value: Expression,
    /// All of it.
    pub span: Span,
}

/// `unit NAME : KIND = [A/B] UNIT [+ OFFSET], spelled "…", "…", per "source"`
#[derive(Clone, Debug)]
pub struct UnitDeclaration {
    /// Its spelling as printed, e.g. `N·m`.
    pub name: Name,
    /// The kinds it measures.
    pub kinds: Vec<Name>,
    /// Numerator, denominator and the unit it is told in; none for a kind's base unit.
    pub factor: Option<(Number, Option<Number>, Name)>,
    /// Where its zero lies, in the unit it is told in: `zero at 273.15 K`.
    pub zero: Option<Quantity>,
    /// `spelled "…"`, `system us`, `counterpart inch`, `digits 2`, `per "…"`.
    pub attributes: Vec<Attribute>,
    /// What its `///` lines say.
    pub doc: Option<String>,
    /// All of it.
    pub span: Span,
}

/// A line of an `element`.
#[derive(Clone, Debug)]
pub enum ElementLine {
    /// `states tight, snug, slack, out`: the first is normal.
    States { values: Vec<Name>, span: Span },
    /// `attribute count, thread`
    Attribute { names: Vec<Name>, span: Span },
    /// `mark single use`: words that may stand in an element's attributes.
    Mark { words: Vec<Name>, span: Span },
    /// `relation fastens : part, seen from it fastened-by, at any depth`
    Relation { name: Name, attributes: Vec<Attribute>, span: Span },
    /// `act slacken : tight or snug -> slack needs …`
    Act(ElementAct),
    /// `never open unless each carries is drained because "…"`: holds for every such thing, always.
    Never { values: Vec<Name>, unless: Option<Condition>, because: Option<Text>, span: Span },
}

/// An act that an element takes.
#[derive(Clone, Debug)]
pub struct ElementAct {
    /// The verb.
    pub verb: Name,
    /// Values it may start from; empty: any.
    pub from: Vec<Name>,
    /// The value it leads to; none: the state stays.
    pub to: Option<Name>,
    /// Words after a comma: `new`.
    pub marks: Vec<Name>,
    /// `needs …`
    pub needs: Option<Condition>,
    /// `takes with, using, quantity`: which clauses it wants or allows.
    pub attributes: Vec<Attribute>,
    /// All of it.
    pub span: Span,
}
