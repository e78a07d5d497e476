//! LN349: one row of a table goes against all the others.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};
use locknut_graph::Odd;

/// Rows that look as if a digit had slipped.
pub(crate) struct RowAgainstOthers {
    /// The table, or what is chosen by its rows.
    pub(crate) table: String,
    pub(crate) odd: Odd,
    /// Where each row stands, and as it is written: `20 °C -> 1200 N`; of two it may be either.
    pub(crate) rows: Vec<(Span, String)>,
    /// Where something is looked up; none: where the rows stand.
    pub(crate) place: Option<Span>,
}

impl Finding for RowAgainstOthers {
    const PAGE: Page = page!("LN349", "ln349_row_against_others.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        let rows: Vec<&str> = self.rows.iter().map(|(_, row)| row.as_str()).collect();
        let rows = rows.join(", or ");
        let (does, label) = match self.odd {
            Odd::Turns(_) => (
                "goes against all the others",
                "without this row the values rise, or fall, all along",
            ),
            Odd::Jumps(_) => {
                ("lies far off all the others", "five times off the two rows next to it, or more")
            }
            Odd::Width(_) => (
                "has another tolerance than all the others",
                "five times as much, or as little, as each of the other rows allows, or more",
            ),
            Odd::Key(_) => (
                "lies far off all the others",
                "the other keys are evenly spaced, and this one is far away",
            ),
        };
        say.title(format!("one row of {} {does}: {rows}", self.table));
        for (at, (row, _)) in self.rows.iter().enumerate() {
            say.label(*row, if at == 0 { label } else { "or without this one" });
        }
        if let Some(place) = self.place {
            say.label(place, "looked up here");
        }
        say.consequence(
            "if a digit slipped there, sound machines are refused and bad ones pass, just where that row counts",
        );
        say.mend("look the row up again at its source");
        say.mend(match self.place {
            Some(_) => "or, where it is so, say so at the line that looks it up: despite LN349 because \"…\"",
            None => "or, where it is so, say so ahead of the { of this line: despite LN349 because \"…\" {",
        });
    }
}

/// One size of a set that stands in another unit than all the others.
pub(crate) struct OtherUnit {
    pub(crate) set: String,
    pub(crate) size: String,
    pub(crate) span: Span,
    /// That of all the others.
    pub(crate) unit: String,
}

impl Finding for OtherUnit {
    const PAGE: Page = RowAgainstOthers::PAGE;
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!("one size of the {} is in another unit: {}", self.set, self.size));
        say.label(self.span, format!("all the others are in {}", self.unit));
        say.consequence("if the unit slipped there, a size is fitted that nobody has measured");
        say.mend("look the size up again on its packet, and write all of them in one unit");
    }
}
