//! LN115: a thing says the same about itself twice.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A line, value or clause that stands twice where it can stand once.
pub(crate) struct SaidTwice {
    /// `the error of the instrument a`, `the value live`.
    pub(crate) what: String,
    pub(crate) first: Span,
    pub(crate) again: Span,
}

impl Finding for SaidTwice {
    const PAGE: Page = page!("LN115", "ln115_said_twice.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} is said twice", self.what));
        say.label(self.again, "again here");
        say.label(self.first, "first here");
        say.consequence("where the two differ, nobody can tell which of them holds");
        say.mend("take one of the two out");
    }
}
