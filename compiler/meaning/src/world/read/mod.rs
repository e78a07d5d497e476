//! Reading pieces of a tree against what is declared: quantities, limits, expressions, conditions, text.
//!
//! Models use it with no readings in scope, procedures with theirs.

use super::{Model, World};
use locknut_finding::{Findings, Span};
use locknut_graph::{ComputedLimit, Condition, Expression, Prose, ReadingId, VariableId, Words};
use locknut_quantity::{Exact, KindId, Limit, Quantity, UnitId};
use locknut_syntax::tree;

/// What a name may mean beyond the model: readings, choices, observations and variants of a procedure.
pub(crate) trait ReadingScope {
    /// A reading, check or choice: what it is, of which kind, in which unit.
    fn reading(&self, name: &str) -> Option<(ReadingId, KindId, UnitId)>;
    /// How many values the reading has: 1, or its points.
    fn points(&self, reading: ReadingId) -> usize;
    /// The position of a reading's point by its name.
    fn point(&self, reading: ReadingId, name: &str) -> Option<usize>;
    /// The variable and value of an observation's answer (`pads is oily`). `Err` lists the answers
    /// where the observation is known and the answer is not.
    fn observation(&self, name: &str, value: &str) -> Option<Result<(VariableId, u8), Vec<String>>>;
    /// The series variable and its values for these series; none where the procedure has none.
    fn series(&self, names: &[String]) -> Option<(VariableId, Vec<u8>)>;
    /// The serial variable and its values for a stretch; none where the procedure has none.
    fn serial(&self, from: Option<u64>, to: Option<u64>) -> Option<(VariableId, Vec<u8>)>;
    /// Names in scope, for "did you mean".
    fn names(&self) -> Vec<String>;
}

/// No readings at all: for models.
pub(crate) struct NoReadings;

impl ReadingScope for NoReadings {
    fn reading(&self, _name: &str) -> Option<(ReadingId, KindId, UnitId)> {
        None
    }
    fn points(&self, _reading: ReadingId) -> usize {
        0
    }
    fn point(&self, _reading: ReadingId, _name: &str) -> Option<usize> {
        None
    }
    fn observation(&self, _name: &str, _value: &str) -> Option<Result<(VariableId, u8), Vec<String>>> {
        None
    }
    fn series(&self, _names: &[String]) -> Option<(VariableId, Vec<u8>)> {
        None
    }
    fn serial(&self, _from: Option<u64>, _to: Option<u64>) -> Option<(VariableId, Vec<u8>)> {
        None
    }
    fn names(&self) -> Vec<String> {
        Vec::new()
    }
}

/// Reads pieces of a tree against a world, a model and the readings in scope.
pub(crate) struct Reader<'a> {
    pub(crate) world: &'a World,
    pub(crate) model: Option<&'a Model>,
    pub(crate) readings: &'a dyn ReadingScope,
}

/// A limit whose ends are fixed, or computed from earlier readings.
pub(crate) enum Bounds {
    Fixed(Limit),
    Computed { limit: ComputedLimit, kind: KindId, unit: UnitId, written: String },
}

impl Reader<'_> {
    /// A number with its unit. `wanted`: the kind that belongs there; none: whatever the unit says.
    pub(crate) fn quantity(&self, _written: &tree::Quantity, _wanted: Option<KindId>, _found: &mut Findings) -> Option<Quantity> {
        None
    }

    /// A single fixed value: a quantity, a named `value`, or a sum of such.
    pub(crate) fn value(&self, _written: &tree::Expression, _wanted: Option<KindId>, _found: &mut Findings) -> Option<Quantity> {
        None
    }

    /// A limit in any form, with fixed ends.
    pub(crate) fn limit(&self, _written: &tree::Limit, _wanted: Option<KindId>, _found: &mut Findings) -> Option<Limit> {
        None
    }

    /// A limit in any form; its ends may be computed from readings.
    pub(crate) fn bounds(&self, _written: &tree::Limit, _wanted: Option<KindId>, _found: &mut Findings) -> Option<Bounds> {
        None
    }

    /// A duration: exact seconds, and as written.
    pub(crate) fn duration(&self, _written: &tree::Expression, _found: &mut Findings) -> Option<(Exact, Quantity)> {
        None
    }

    /// `takes D` or `takes D .. D .. D`: shortest, likely, longest, in seconds (`D .. D` has its middle as likely).
    pub(crate) fn triple(&self, _written: &tree::Limit, _found: &mut Findings) -> Option<(Exact, Exact, Exact)> {
        None
    }

    /// An expression over readings and fixed values, its kind, and the unit to show it in.
    pub(crate) fn expression(
        &self,
        _written: &tree::Expression,
        _wanted: Option<KindId>,
        _found: &mut Findings,
    ) -> Option<(Expression, KindId, UnitId)> {
        None
    }

    /// A condition.
    pub(crate) fn condition(&self, _written: &tree::Condition, _found: &mut Findings) -> Option<Condition> {
        None
    }

    /// A text with its holes resolved.
    pub(crate) fn prose(&self, _written: &tree::Text, _found: &mut Findings) -> Prose {
        Prose::default()
    }

    /// How a declared thing, state, tool, consumable or reading is said.
    pub(crate) fn words(&self, name: &str) -> Words {
        Words::of(name)
    }

    /// What the source says at a place, its line ends and runs of blanks as one blank.
    pub(crate) fn written(&self, _span: Span) -> String {
        String::new()
    }
}
