//! Reading pieces of a tree against what is declared: quantities, limits, expressions, conditions, text.
//!
//! Models use it with no readings in scope, procedures with theirs.

mod condition;
mod expression;
mod figures;
mod fold;
mod limit;
mod look_up;
mod name;
mod prose;
mod quantity;
mod raw_number;
mod sum;
mod tolerance;
mod value;

pub(crate) use expression::Typed;
pub(crate) use figures::{figures, figures_mut, lent, sides};
pub(crate) use limit::{Bounds, can_be_tightened_to, not_too_far_together};
pub(crate) use name::one_line;

use super::{Model, World};
use locknut_graph::{ReadingId, VariableId};
use locknut_quantity::{KindId, UnitId};

/// Reads pieces of a tree against a world, a model and the readings in scope.
#[derive(Clone, Copy)]
pub(crate) struct Reader<'a> {
    pub(crate) world: &'a World,
    pub(crate) model: Option<&'a Model>,
    pub(crate) readings: &'a dyn ReadingScope,
}

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
    fn observation(&self, name: &str, value: &str)
    -> Option<Result<(VariableId, u8), Vec<String>>>;
    /// The series variable and its values for these series; none where the procedure has none.
    fn series(&self, names: &[String]) -> Option<(VariableId, Vec<u8>)>;
    /// The serial variable and its values for a stretch; none where the procedure has none.
    fn serial(&self, from: Option<u64>, to: Option<u64>) -> Option<(VariableId, Vec<u8>)>;
    /// The point that a name stands for here: `pad` in `at each pad of pads { … }`.
    fn point_here(&self, name: &str) -> Option<String>;
    /// The point that all of this is done at: `do change-pads at front`.
    fn done_at(&self) -> Option<&str>;

    /// Whether the lines are those of a subtask on an assembly at these points: it knows of one of what stands there.
    fn knows_one(&self, _points: &[String]) -> bool {
        false
    }
    /// Some line around could not be read.
    fn unread(&self) -> bool;
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
    fn observation(
        &self,
        _name: &str,
        _value: &str,
    ) -> Option<Result<(VariableId, u8), Vec<String>>> {
        None
    }
    fn series(&self, _names: &[String]) -> Option<(VariableId, Vec<u8>)> {
        None
    }
    fn serial(&self, _from: Option<u64>, _to: Option<u64>) -> Option<(VariableId, Vec<u8>)> {
        None
    }
    fn point_here(&self, _name: &str) -> Option<String> {
        None
    }
    fn done_at(&self) -> Option<&str> {
        None
    }
    fn unread(&self) -> bool {
        false
    }
    fn names(&self) -> Vec<String> {
        Vec::new()
    }
}
