//! LN349: one row of a table goes against all the others.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// Rows of which one alone keeps a table from rising, or falling, all along.
pub(crate) struct RowAgainstOthers {
    pub(crate) table: String,
    /// Where each stands, and as it is written: `20 °C -> 1200 N`; of two it may be either.
    pub(crate) rows: Vec<(Span, String)>,
    /// Where something is looked up.
    pub(crate) place: Span,
}

impl Finding for RowAgainstOthers {
    const PAGE: Page = page!("LN349", "ln349_row_against_others.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        let rows: Vec<&str> = self.rows.iter().map(|(_, row)| row.as_str()).collect();
        let rows = rows.join(", or ");
        say.title(format!("one row of {} goes against all the others: {rows}", self.table));
        for (at, (row, _)) in self.rows.iter().enumerate() {
            let it = if at == 0 { "without this row" } else { "or without this one" };
            say.label(*row, format!("{it} the values rise, or fall, all along"));
        }
        say.label(self.place, "looked up here");
        say.consequence(
            "if a digit slipped there, sound machines are refused and bad ones pass, just where that row counts",
        );
        say.mend("look the row up again at its source");
        say.mend(
            "or, where it does turn there, say so at the line that looks it up: despite LN349 because \"…\"",
        );
    }
}
