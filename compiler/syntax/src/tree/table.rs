//! Tables.

use super::{Expression, Limit, Name, Text};
use locknut_finding::Span;

/// A look-up with one home.
#[derive(Clone, Debug)]
pub struct Table {
    /// Its name.
    pub name: Name,
    /// The kind of its keys.
    pub of: Name,
    /// The kind of what it gives.
    pub kind: Name,
    /// Its rows, in written order.
    pub rows: Vec<TableRow>,
    /// What holds between two rows, as written; more than one is a fault.
    pub between: Vec<Name>,
    /// Where its figures come from.
    pub per: Option<Text>,
    /// Some line of it could not be read.
    pub broken: bool,
    /// All of it.
    pub span: Span,
}

/// `10 °C -> 500 N`
#[derive(Clone, Debug)]
pub struct TableRow {
    /// What is looked up.
    pub key: Expression,
    /// What stands there.
    pub value: Limit,
    /// All of it.
    pub span: Span,
}
