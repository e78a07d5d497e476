//! LN430: a line of the title block stands twice, or names no day.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A line of the title block that cannot be printed.
pub(crate) enum BadHeader {
    /// It stands twice.
    Twice { word: &'static str, first: Span, again: Span },
    /// A date that the calendar does not have.
    NoSuchDate { date: String, span: Span },
}

impl Finding for BadHeader {
    const PAGE: Page = page!("LN430", "ln430_bad_header.md");

    fn show(&self, say: &mut Report) {
        match self {
            Self::Twice { word, first, again } => {
                say.title(format!("“{word}” is said twice"));
                say.label(*again, "said again here");
                say.label(*first, "said here already");
                say.consequence("only one of them would stand on the first page");
                if *word == "crew" {
                    say.mend(
                        "name all of them in one line, with commas between: crew fitter, helper",
                    );
                } else {
                    say.mend("take one of them out");
                }
            }
            Self::NoSuchDate { date, span } => {
                say.title(format!("there is no day {date}"));
                say.label(*span, "not a day of the calendar");
                say.mend("write year, month and day: 2026-10-02");
            }
        }
    }
}
