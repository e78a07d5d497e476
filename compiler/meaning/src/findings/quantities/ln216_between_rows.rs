//! LN216: what is looked up may lie between two rows, where the table says nothing.

use crate::findings::names::listed;
use locknut_finding::{Finding, Page, Report, Span, page};

/// A figure that may lie between two keys of a table that has nothing there.
pub(crate) struct BetweenRows {
    pub(crate) table: String,
    /// As written; none: a figure that stands there.
    pub(crate) argument: Option<String>,
    pub(crate) place: Span,
    /// What lies between the rows: the first such stretches.
    pub(crate) between: Vec<String>,
    pub(crate) declared: Span,
}

impl Finding for BetweenRows {
    const PAGE: Page = page!("LN216", "ln216_between_rows.md");

    fn show(&self, say: &mut Report) {
        let between = listed(&self.between, "or");
        if let Some(argument) = &self.argument {
            say.title(format!("{} has no row where {argument} is {between}", self.table));
            say.label(self.place, format!("{argument} may be {between} here"));
        } else {
            say.title(format!("{} has no row for {between}", self.table));
            say.label(self.place, "between two rows");
        }
        say.label(self.declared, "it says: between nothing");
        say.consequence("the technician reads a value that stands in no row, and takes the one next to it, or none");
        say.mend("let the table say “between in proportion” or “take next lower”, if its source allows that");
        say.mend("or add the rows, or read with an instrument that shows the keys alone");
    }
}
