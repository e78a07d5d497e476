//! LN214: a table does not fit together, or is not used as what it is.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A table that cannot be looked up.
pub(crate) struct TableUnfit {
    pub(crate) table: String,
    pub(crate) place: Span,
    pub(crate) fault: TableFault,
}

/// How.
pub(crate) enum TableFault {
    /// Too few rows.
    Rows { wanted: usize },
    /// Nothing says what holds between two rows.
    NoRule,
    /// Two lines say it.
    TwoRules,
    /// A row has a limit of another shape than the first.
    Shape { first: Span },
    /// A row names something.
    Named,
    /// It is not looked up with one figure.
    Arguments { given: usize },
}

impl Finding for TableUnfit {
    const PAGE: Page = page!("LN214", "ln214_table_unfit.md");

    fn show(&self, say: &mut Report) {
        let (table, place) = (&self.table, self.place);
        match &self.fault {
            TableFault::Rows { wanted } => {
                let rows = if *wanted == 1 { "a row" } else { "two rows" };
                say.title(format!("{table} has fewer rows than it needs"));
                say.label(place, format!("this wants at least {rows}"));
                say.consequence("there is nothing to look up");
                say.mend("write one row a line, as in: 10 °C -> 500 N");
            }
            TableFault::NoRule => {
                say.title(format!("{table} does not say what holds between two rows"));
                say.label(place, "nothing is said of what lies between");
                say.consequence(
                    "between two rows one technician takes the nearer, another works it out",
                );
                say.mend("add a line: between in proportion, between nothing, or take next lower");
            }
            TableFault::TwoRules => {
                say.title(format!("{table} says twice what holds between two rows"));
                say.label(place, "said again here");
                say.consequence("nobody knows which of them holds");
                say.mend("strike one of them");
            }
            TableFault::Shape { first } => {
                say.title(format!("a row of {table} has another sort of limit than the first"));
                say.label(place, "another sort here");
                say.label(*first, "the first row");
                say.consequence("between the two rows nothing can be taken in proportion");
                say.mend("give all rows a figure, or all the same ends: at most …, … ± …");
            }
            TableFault::Named => {
                say.title(format!("a row of {table} names another figure"));
                say.label(place, "a row holds figures alone");
                say.consequence(
                    "whoever looks it up must look elsewhere, and may look in the wrong place",
                );
                say.mend("write the figure itself");
            }
            TableFault::Arguments { given } => {
                say.title(format!("{table} is looked up with {given} figures"));
                say.label(place, "one figure is wanted");
                say.consequence("nobody knows which of its rows is meant");
                say.mend(format!("write {table}(…) with the one figure that its keys are of"));
            }
        }
    }
}
