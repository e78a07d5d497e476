//! What a world is made of.

use locknut_finding::Span;
use locknut_graph::{Hazard, Prose, Pull, Stage, Tightening, Variable, VariableId, Words};
use locknut_quantity::{Exact, KindId, Limit, Quantity};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

/// A `value` or `limit` with a name.
#[derive(Clone, Debug)]
pub struct NamedLimit {
    pub words: Words,
    /// `value` has a single number: its range is closed at both ends on it.
    pub is_value: bool,
    pub limit: Limit,
    pub span: Span,
}

/// An element of the vocabulary.
#[derive(Clone, Debug)]
pub struct ElementKind {
    pub name: String,
    /// The first is normal.
    pub states: Vec<String>,
    /// Free attributes it may have: `count`, `thread`, …
    pub attributes: BTreeSet<String>,
    /// Marks it may have, words joined by a blank: `single use`.
    pub marks: BTreeSet<String>,
    pub relations: BTreeMap<String, RelationKind>,
    pub acts: BTreeMap<String, ElementAct>,
    /// What no such thing ever is, whatever its model says.
    pub nevers: Vec<ElementNever>,
    pub doc: Option<String>,
    pub span: Span,
}

/// A relation that an element may have to another thing, or to a state.
#[derive(Clone, Debug)]
pub struct RelationKind {
    pub name: String,
    /// The element kind at its other end; `state` for a declared state; none: anything.
    pub to: Option<String>,
    /// Where that is said.
    pub to_span: Span,
    /// Its name seen from the other end: `fastened-by`.
    pub inverse: Option<String>,
    /// Followed through other things of the same relation: `behind`.
    pub any_depth: bool,
    /// Relations that a thing takes over from whatever it has this one to: a fastener stands behind
    /// whatever its part stands behind (`fastens : part, shares behind`).
    pub shares: Vec<String>,
    /// It names a value too: `bars supply at isolated`.
    pub at_a_value: bool,
    /// `bars : state, at a value, while locked`: the thing's values at which it bars; empty: it bars nothing.
    pub bars_while: Vec<String>,
    pub span: Span,
}

/// `never open unless each carries is drained because "…"`
#[derive(Clone, Debug)]
pub struct ElementNever {
    /// Positions among the element's states.
    pub values: Vec<u8>,
    /// Unless all of these hold.
    pub needs: Vec<Need>,
    pub because: String,
    pub span: Span,
}

/// An act that an element takes.
#[derive(Clone, Debug)]
pub struct ElementAct {
    pub verb: String,
    /// Positions among the element's states; empty: from any.
    pub from: Vec<u8>,
    /// None: the state stays.
    pub to: Option<u8>,
    /// It brings a new part (`renew`).
    pub new: bool,
    pub needs: Vec<Need>,
    /// Clauses and objects it wants or allows: `quantity`, `sense`, `with`, `figure`, …
    pub takes: BTreeSet<String>,
    pub span: Span,
}

/// A need that an element declares for its act; all must hold.
#[derive(Clone, Debug)]
pub enum Need {
    /// `each fastens is in-place`; over the relation or its inverse, at any depth where it is so.
    Each { relation: String, negated: bool, values: Vec<String>, span: Span },
    /// `not single use`, or `single use`.
    Mark { mark: String, wanted: bool, span: Span },
    /// `dead`: the condition that the thing itself declares under this word (`dead when …`).
    Own { word: String, span: Span },
}

/// A thread, strength class, friction condition or effort.
#[derive(Clone, Debug)]
pub struct Figure {
    pub keyword: String,
    pub words: Words,
    /// Named quantities and ranges: `diameter`, `pitch`, `proof`.
    pub values: BTreeMap<String, Limit>,
    pub source: Option<String>,
    pub span: Span,
}

/// A model.
#[derive(Clone, Debug)]
pub struct Model {
    pub name: String,
    pub title: Prose,
    pub series: Vec<String>,
    pub has_serial: bool,
    /// Declared states first, then elements, in written order. A graph's variables begin with these,
    /// so a `VariableId` means the same in the model and in every graph on it; the special tools that
    /// fit the model follow, in the order of their names.
    pub variables: Vec<Variable>,
    /// A declared state, element or special tool by its name.
    pub variable_named: BTreeMap<String, VariableId>,
    /// The points of a thing or state that stands at several; `pads at north` is a thing of its own then,
    /// and `pads` is none.
    pub points: BTreeMap<String, Vec<String>>,
    /// Elements by name; a special tool that fits one of them stands here too, as a `special-tool`.
    pub things: BTreeMap<String, ModelThing>,
    pub limits: BTreeMap<String, NamedLimit>,
    /// Figures and things that are declared but could not be read: what uses them stays quiet.
    pub broken: BTreeSet<String>,
    /// Some line of it could not be read: what it lacks may stand there.
    pub incomplete: bool,
    /// The assemblies that it is made of, at any depth.
    pub made_of: BTreeSet<String>,
    /// The points of those assemblies that are placed at several.
    pub placed: BTreeMap<String, Vec<String>>,
    /// `reading R : KIND needs COND makes COND, expect RANGE`: binds whoever measures it.
    pub readings: BTreeMap<String, ModelReading>,
    /// `change S : a -> b needs COND`: a state that has any is changed in these ways alone.
    pub changes: Vec<Change>,
    pub interlocks: Vec<locknut_graph::Interlock>,
    /// `never ACT …`: the tree's act and its clauses are read against the model already.
    pub act_interlocks: Vec<ActInterlock>,
    pub hazards: Vec<Hazard>,
    /// For each hazard, the names of things it is `at`, and of all that it therefore guards: their
    /// fasteners and whatever stands behind them at any depth.
    pub hazard_things: Vec<BTreeSet<String>>,
    pub safe_to_leave: (locknut_graph::Condition, Span),
    /// Whether that is said, and not what is taken where nobody says it.
    pub leave_said: bool,
    pub span: Span,
}

impl Model {
    /// Whether a name is a state, element or special tool of the model, at one point or at several.
    pub(crate) fn has(&self, name: &str) -> bool {
        self.variable_named.contains_key(name) || self.points.contains_key(name)
    }

    /// Of a thing or state, or of all that stand at its points, the one declared first.
    pub(crate) fn any_of(&self, name: &str) -> Option<&ModelThing> {
        let first = self.points.get(name).and_then(|points| points.first());
        match first {
            Some(point) => self.things.get(&super::at_point(name, point)),
            None => self.things.get(name),
        }
    }
}

/// A reading that outlives one procedure.
#[derive(Clone, Debug)]
pub struct ModelReading {
    pub kind: KindId,
    /// What must hold just before it is taken.
    pub needs: Vec<locknut_graph::Assertion>,
    /// What taking it does to the machine.
    pub makes: Vec<(VariableId, u8)>,
    /// What it comes to where its own line does not say.
    pub expect: Option<Limit>,
    pub span: Span,
}

/// `change supply : live -> isolated needs jib is tethered`.
#[derive(Clone, Debug)]
pub struct Change {
    pub variable: VariableId,
    pub from: u8,
    pub to: u8,
    /// What must hold just before it.
    pub needs: Vec<locknut_graph::Assertion>,
    pub span: Span,
}

/// `never turn slew-pinion [unless COND] [while COND] because "…"`.
#[derive(Clone, Debug)]
pub struct ActInterlock {
    pub verb: String,
    /// Empty: any thing.
    pub things: Vec<String>,
    /// What must hold just before such an act.
    pub holds: locknut_graph::Condition,
    pub because: Prose,
    pub written: String,
    pub span: Span,
}

/// An element of a model.
#[derive(Clone, Debug)]
pub struct ModelThing {
    pub words: Words,
    /// The element kind: `bolts`.
    pub element: String,
    pub variable: VariableId,
    /// Relations by name, its own and those seen from it (`fastened-by`), to names of things/states.
    pub relations: BTreeMap<String, Vec<String>>,
    /// Where each relation is said, by its name and its other end.
    pub relation_spans: BTreeMap<(String, String), Span>,
    /// `bars supply at isolated`: the state and the value.
    pub bars: Vec<(VariableId, u8)>,
    pub marks: BTreeSet<String>,
    /// Where each mark is said.
    pub mark_spans: BTreeMap<String, Span>,
    /// `dead when COND` and the like, by their word.
    pub own_conditions: BTreeMap<String, locknut_graph::Condition>,
    /// `sealed because "…" else renew X`.
    pub sealed: Option<(Prose, Option<String>, Span)>,
    /// `held by hand until COND`, and where it says so.
    pub held: Option<(locknut_graph::Condition, Span)>,
    /// `inspected by ROLE after VERB and VERB`.
    pub inspected: Option<Inspected>,
    pub count: Option<u64>,
    pub thread: Option<String>,
    pub strength: Option<String>,
    pub friction: Option<String>,
    /// As written: `crosswise`, `on rectangle 4 x 2`.
    pub pattern: Option<String>,
    /// `tightened to 60 ± 5 N·m, then turned 45°`.
    pub tightening: Vec<Stage>,
    pub fastening: Fastening,
    /// Worked out when first asked for: many procedures tighten the same set.
    pub(crate) reckoned: OnceLock<Tightening>,
    /// `6.5 L of gear-oil-220`.
    pub content: Option<(Option<Quantity>, String)>,
    pub attributes: Vec<Attribute>,
    pub span: Span,
}

/// An inspection that is due after some acts, by somebody who did not do them.
#[derive(Clone, Debug)]
pub struct Inspected {
    pub by: Words,
    pub after: Vec<String>,
    pub span: Span,
}

/// A load along the fasteners of a set, as it is said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Carried {
    pub pull: Option<Pull>,
    pub moment: Option<Exact>,
    pub written: String,
    pub span: Span,
}

/// Where the fasteners of a set stand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Arrangement {
    /// `on pitch circle 180 mm`, `crosswise`: on a circle of this diameter, where it is said.
    Circle(Option<Exact>),
    /// `on rectangle 4 x 2 of 240 x 80 mm`: bolts along each side of the outline, the corners counted in both; how far apart the
    /// corners are, where it is said.
    Rectangle(u16, u16, Option<(Exact, Exact)>),
    /// `in a row of 240 mm`: from the first to the last, where it is said.
    Row(Option<Exact>),
    /// `on points 0 x 0 mm and 40 x 0 mm`
    Points(Vec<(Exact, Exact)>),
}

/// In which order the fasteners of a set are tightened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sequence {
    /// Opposite ones in turn.
    Crosswise,
    /// From the middle outwards.
    Spiral,
}

/// What was measured or drawn of this very set of fasteners, rather than taken from tables.
#[derive(Clone, Debug, Default)]
pub struct Fastening {
    /// `friction 0.12 .. 0.14 per "…"`
    pub friction: Option<locknut_graph::Friction>,
    /// `friction under head 0.08 .. 0.16 per "…"`
    pub head_friction: Option<locknut_graph::Friction>,
    /// `prevailing 2 .. 6 N·m per "…"`
    pub prevailing: Option<locknut_graph::Prevailing>,
    /// `clamps 40 mm`
    pub clamps: Option<Exact>,
    /// `carries 6 kN`, `carries 40 kN shared evenly`, `carries moment 3 kN·m`
    pub carries: Option<Carried>,
    /// `bearing 13 mm`: the outer diameter of the face under the head.
    pub bearing: Option<Exact>,
    /// `hole 9 mm`
    pub hole: Option<Exact>,
    /// Where the face under the head and its hole are said.
    pub face_at: [Option<Span>; 2],
    /// Where an angle to turn on by is said.
    pub angle_at: Option<Span>,
    /// Whether a friction was said and refused: then nothing is reckoned with the usual one.
    pub friction_refused: bool,
    /// Where they stand.
    pub arrangement: Option<Arrangement>,
    /// `crosswise`, `spiral`: in which order they are tightened.
    pub sequence: Option<Sequence>,
    /// How many they are, or where they stand, was said and refused: of that nothing follows.
    pub refused: bool,
    /// Where that is said.
    pub pattern_at: Option<Span>,
    /// Where the stages of the tightening are said.
    pub tightened_at: Option<Span>,
    /// Where the strength class is said.
    pub class_at: Option<Span>,
}

/// Any other attribute, as written, for house elements.
#[derive(Clone, Debug)]
pub struct Attribute {
    pub name: String,
    pub value: Option<Limit>,
    pub written: String,
    pub span: Span,
}

/// A tool.
#[derive(Clone, Debug)]
pub struct Tool {
    pub words: Words,
    pub special: bool,
    pub number: Option<String>,
    /// The thing it fits, on every model that has it.
    pub fits: Option<String>,
    /// Where `fits` names it.
    pub fits_at: Option<Span>,
    /// `made from template T`
    pub template: Option<String>,
    pub span: Span,
}

/// A consumable.
#[derive(Clone, Debug)]
pub struct Consumable {
    pub words: Words,
    /// It oils, greases, locks …: as written.
    pub purpose: BTreeSet<String>,
    pub sizes: Vec<(Quantity, Option<String>)>,
    pub shelf_life_months: Option<u32>,
    pub exact_size: Option<Exact>,
    pub span: Span,
}
