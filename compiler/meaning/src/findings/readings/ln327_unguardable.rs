//! LN327: a limit is to be guarded against an error that nobody has stated.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A guarded limit on a value whose error is not known.
pub(crate) struct Unguardable {
    pub(crate) name: String,
    /// Where the rule is written, or the limit where the library has it.
    pub(crate) said: Span,
    pub(crate) limit: Span,
    pub(crate) why: Unknown,
}

/// Why its error is not known.
pub(crate) enum Unknown {
    /// What shows it states none: as said, and where it is declared.
    Instrument(String, Span),
    /// Nothing is stated of a reading that it or its limit hangs on: as said, and where it is taken.
    Reading(String, Span),
    /// It hangs on a table that jumps from row to row: its name, and where it is declared.
    Table(String, Span),
    /// It hangs on a product or a quotient of readings.
    Product,
}

impl Finding for Unguardable {
    const PAGE: Page = page!("LN327", "ln327_unguardable.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("nobody knows how far {} may be from the true value", self.name));
        if self.said == self.limit {
            say.label(
                self.limit,
                "this library guards its limits against the error of the reading",
            );
        } else {
            say.label(self.said, "this guards the limit against the error of the reading");
        }
        match &self.why {
            Unknown::Instrument(instrument, declared) => {
                say.label(*declared, "no error is stated here that a guard band could be made of");
                say.mend(format!("state the greatest error of the {instrument}: error 0.02 mm"));
            }
            Unknown::Reading(reading, taken) => {
                say.label(*taken, format!("it hangs on {reading}, of which no error is known"));
                say.mend("state the greatest error of the instrument that this is read with, or write “as read”");
            }
            Unknown::Table(table, declared) => {
                say.label(*declared, "what this gives jumps from row to row");
                say.note(
                    "how far off a key is says nothing of what is looked up where a table jumps",
                );
                say.mend(format!(
                    "let {table} go “between in proportion”, where that is so, or write “as read”"
                ));
            }
            Unknown::Product => {
                say.note("of a product or a quotient of readings it is not known");
                say.mend("guard the readings that it is worked out from, or write “as read”");
            }
        }
        say.consequence("the guard band would be a guess, and it is there to end guessing");
    }
}
