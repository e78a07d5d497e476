//! Conditions on the machine, the variant and readings.

use crate::{Expression, VariableId};
use locknut_finding::Span;
use locknut_quantity::{Exact, Limit};

/// A condition; the machine's part is decided by variables, the rest by readings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Condition {
    /// Always or never so.
    Always(bool),
    /// One test.
    Test(Test),
    /// Not so.
    Not(Box<Condition>),
    /// All of them.
    All(Vec<Condition>),
    /// At least one.
    Any(Vec<Condition>),
}

impl Default for Condition {
    /// Nothing is asked.
    fn default() -> Self {
        Self::Always(true)
    }
}

/// One test.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Test {
    /// The variable has one of these values.
    Is { variable: VariableId, values: Vec<u8>, span: Span },
    /// It has one of these values, and that was proved since it was last written.
    Proved { variable: VariableId, values: Vec<u8>, span: Span },
    /// It has one of these values and has had it for so long, counted in waits (seconds).
    /// `under` asks for the opposite of the time only: it has the value, but not yet for so long.
    Held { variable: VariableId, values: Vec<u8>, seconds: Exact, under: bool, span: Span },
    /// A reading or an expression over readings lies in a range.
    Within { value: Expression, limit: Limit, written: String, span: Span },
}

impl Condition {
    /// All tests in it, in written order.
    pub fn tests(&self) -> Vec<&Test> {
        let mut all = Vec::new();
        self.gather(&mut all);
        all
    }

    /// Every variable it speaks of.
    pub fn variables(&self) -> std::collections::BTreeSet<VariableId> {
        self.tests().into_iter().filter_map(Test::variable).collect()
    }

    fn gather<'a>(&'a self, all: &mut Vec<&'a Test>) {
        match self {
            Self::Always(_) => {}
            Self::Test(test) => all.push(test),
            Self::Not(inner) => inner.gather(all),
            Self::All(parts) | Self::Any(parts) => parts.iter().for_each(|part| part.gather(all)),
        }
    }
}

impl Test {
    /// The variable it speaks of; none for a reading.
    pub fn variable(&self) -> Option<VariableId> {
        match self {
            Self::Is { variable, .. }
            | Self::Proved { variable, .. }
            | Self::Held { variable, .. } => Some(*variable),
            Self::Within { .. } => None,
        }
    }
}
