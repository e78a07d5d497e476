//! What is worked on and with: states, interlocks, hazards, instruments, tools, materials.

use crate::{Condition, Guard, HazardId, InstrumentError, Metrology, Prose, Test, Words};
use locknut_finding::Span;
use locknut_quantity::{Exact, KindId, Limit, Quantity, Range, UnitId};

/// A variable, by its position in [`crate::StepGraph::variables`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct VariableId(pub u16);

/// A finite variable of the machine or of the variant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Variable {
    /// As said: "supply", "brake cover".
    pub words: Words,
    /// Its values; there are at most 255.
    pub values: Vec<Value>,
    /// The value it normally has (0 unless declared otherwise).
    pub normal: u8,
    /// What it is.
    pub kind: VariableKind,
    /// Where it is declared.
    pub span: Span,
}

/// A value of a variable.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Value {
    /// As said: "isolated", "out".
    pub words: Words,
    /// Where it is declared.
    pub span: Span,
}

/// What a variable is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum VariableKind {
    /// A state declared by the model.
    State,
    /// The own state of an element, e.g. of `bolts`.
    Element { element: String },
    /// A special tool: out or fitted.
    Tool,
    /// Series of the machine: chosen at the start, never written.
    Series,
    /// A stretch of serial numbers between mentioned bounds; never written. Each value's stretch
    /// (from, to) is inclusive; an end left out is open.
    Serial { stretches: Vec<(Option<u64>, Option<u64>)> },
    /// The answer of an `observe` that a later `when` asks for; written by the reading's arms.
    Observation,
    /// Somebody's hold of a thing, one for each `hold` line: not yet, held, let go.
    Hold { by: Words, thing: Words },
    /// An inspection that work on a thing makes due: not due, due.
    Inspection { by: Words, thing: Words },
    /// Whether a state that nobody knew at the start is still unknown: known, unknown.
    Unknown { of: crate::VariableId },
    /// Whether a reading that should prove a state has shown that it is not so: not denied, denied.
    Denied { of: crate::VariableId },
    /// Whether one has since the state was set last, so that nobody knows for how long it has been so: no, yes.
    DeniedTime { of: crate::VariableId },
}

impl Variable {
    /// `is`, or `are` of what is named in the plural: lid bolts are, a stop screw is, though it is of the bolts.
    pub fn is_or_are(&self) -> &'static str {
        let plural = |name: &str| name.ends_with('s') && !name.ends_with("ss");
        // What stands at several points is named ahead of its point.
        let name = self.words.said.split(" at ").next().unwrap_or_default();
        if self.kind.element().is_some_and(plural) && plural(name) { "are" } else { "is" }
    }
}

impl VariableKind {
    /// Whether it is of the machine, rather than of the variant, an answer or the people.
    pub fn of_machine(&self) -> bool {
        match self {
            Self::State | Self::Element { .. } | Self::Tool => true,
            Self::Series
            | Self::Serial { .. }
            | Self::Observation
            | Self::Hold { .. }
            | Self::Inspection { .. }
            | Self::Unknown { .. }
            | Self::Denied { .. }
            | Self::DeniedTime { .. } => false,
        }
    }

    /// The vocabulary's name for what its values are of; none: its own name.
    pub fn element(&self) -> Option<&str> {
        match self {
            Self::Element { element } => Some(element),
            Self::Tool => Some("special-tool"),
            Self::State
            | Self::Series
            | Self::Serial { .. }
            | Self::Observation
            | Self::Hold { .. }
            | Self::Inspection { .. }
            | Self::Unknown { .. }
            | Self::Denied { .. }
            | Self::DeniedTime { .. } => None,
        }
    }
}

/// Something that must never be so.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Interlock {
    /// What must hold after every act: already `unless or not never`.
    pub holds: Condition,
    /// The author's reason.
    pub because: Prose,
    /// The `never …` line.
    pub span: Span,
    /// What the source says, for messages: `brake is released unless jib is tethered`.
    pub written: String,
    /// The part that must be held by hand, where that is what it asks.
    pub held: Option<Words>,
}

/// A hazard, with where it must be printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hazard {
    /// How grave.
    pub signal: Signal,
    /// What, what it does, how to avoid it.
    pub text: Prose,
    /// While this may be so; none: always.
    pub condition: Condition,
    /// Whether it names a thing (`at …`): then [`crate::Act::touches`] tells which acts it guards.
    pub at: Vec<Words>,
    /// Where it is declared.
    pub span: Span,
}

/// Signal words, gravest first (ANSI Z535.4, ISO 3864-2).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Signal {
    /// Will kill or maim if not avoided.
    Danger,
    /// Could kill or maim.
    Warning,
    /// Could hurt.
    Caution,
    /// Could damage things.
    Notice,
}

/// How something must be so at *done*.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Surely {
    /// As the path makes it.
    #[default]
    So,
    /// Proved by a reading.
    Proved,
    /// For so many seconds by then.
    For(Exact),
}

/// What must be so at *done*.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Restore {
    /// Which variable.
    pub variable: crate::VariableId,
    /// The values it may have then.
    pub values: Vec<u8>,
    /// Whether a proof or a time is asked for, too.
    pub surely: Surely,
    /// The author's reason, where it is left otherwise than normal: printed on a tag.
    pub because: Option<Prose>,
    /// The line that says so; the variable's own where it is just the normal value.
    pub span: Span,
}

impl Restore {
    /// What is asked for.
    pub fn condition(&self) -> Condition {
        let (variable, values, span) = (self.variable, self.values.clone(), self.span);
        Condition::Test(match &self.surely {
            Surely::So => Test::Is { variable, values, span },
            Surely::Proved => Test::Proved { variable, values, span },
            Surely::For(seconds) => {
                let seconds = seconds.clone();
                Test::Held { variable, values, seconds, under: false, span }
            }
        })
    }
}

/// An instrument.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Instrument {
    /// As said.
    pub words: Words,
    /// What it measures or applies.
    pub kind: KindId,
    /// The unit of its scale.
    pub unit: UnitId,
    /// The scale's own name, e.g. "Shore A".
    pub scale: Option<String>,
    /// True where it sets a quantity (a torque wrench) instead of reading it.
    pub applies: bool,
    /// True where it shows no figures, only whether one limit is kept: `range`.
    pub one_limit: bool,
    /// What it can show or set.
    pub range: Range,
    /// The range as written.
    pub range_written: String,
    /// The smallest step of its display.
    pub resolution: Option<Quantity>,
    /// Its greatest error, as written, and as parts: of the reading, of full scale, fixed.
    pub error: Option<InstrumentError>,
    /// Its standard uncertainty, where its calibration states one.
    pub standard_uncertainty: Option<InstrumentError>,
    /// Calibrated every so many months.
    pub calibrate_months: Option<u32>,
    /// To be proved on this, before and after each reading.
    pub proved_on: Option<Prose>,
    /// What it is cut from.
    pub template: Option<Words>,
    /// Where it is declared.
    pub span: Span,
}

/// A tool.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tool {
    /// As said.
    pub words: Words,
    /// Special tools have numbers and are listed apart.
    pub special: bool,
    /// The maker's number.
    pub number: Option<String>,
    /// What it is cut from.
    pub template: Option<Words>,
    /// Where it is declared.
    pub span: Span,
}

/// A part or consumable that the job uses up or needs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Material {
    /// As said.
    pub words: Words,
    /// How much or how many, where it is known.
    pub quantity: Option<Quantity>,
    /// Sizes with their part numbers.
    pub sizes: Vec<(Quantity, Option<String>)>,
    /// Shelf life in months.
    pub shelf_life_months: Option<u32>,
    /// A part of the model that must be new, rather than a consumable.
    pub new_part: bool,
    /// Only needed on some ways through.
    pub maybe: bool,
}

/// Title block and lists of a procedure.
#[derive(Clone, Debug, Default)]
pub struct Heading {
    /// Its name in the source.
    pub name: String,
    /// Its title.
    pub title: Prose,
    /// What it is for: the doc comment.
    pub purpose: Option<String>,
    /// The model's title.
    pub model: Prose,
    /// The model's name in the source.
    pub model_name: String,
    /// True for a subtask that is printed or proved by itself.
    pub subtask: bool,
    /// Revision letter and date.
    pub revision: Option<(String, Option<String>)>,
    /// The revision it replaces, and why.
    pub replaces: Option<(String, Prose)>,
    /// Which machines it is for, one line each, already said in the library's words.
    pub applies: Vec<Applies>,
    /// The roles of its crew.
    pub crew: Vec<Words>,
    /// Publisher, from `library.yaml`.
    pub publisher: String,
    /// How its limits are to be held, from `library.yaml`.
    pub metrology: Metrology,
}

/// Which machines a procedure is for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Applies {
    /// These series.
    Series(Vec<String>),
    /// Serial numbers from, to; inclusive.
    Serial(Option<u64>, Option<u64>),
}

/// A panel of the model that must stand ahead of an act.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HazardPlace {
    /// Which hazard.
    pub hazard: HazardId,
    /// Ahead of which node; none: the banner of page one.
    pub ahead_of: Option<crate::NodeId>,
}

/// A limit with the source it comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourcedLimit {
    /// The limit.
    pub limit: Limit,
    /// `per "Drawing TS-114 issue 6"`.
    pub per: Option<Prose>,
    /// What guards it against the error of the reading; none: the reading is taken for the true value.
    pub guard: Option<Guard>,
    /// The `accept` line.
    pub span: Span,
}

impl SourcedLimit {
    /// The readings that it accepts, where its ends are fixed.
    pub fn accepted(&self) -> Range {
        let limit = &self.limit.range;
        self.guard.as_ref().map_or_else(|| limit.clone(), |guard| guard.accepted(limit))
    }

    /// The readings that it does not refuse, where its ends are fixed.
    pub fn not_refused(&self) -> Range {
        let limit = &self.limit.range;
        self.guard.as_ref().map_or_else(|| limit.clone(), |guard| guard.not_refused(limit))
    }
}
