//! LN307: a limit without a word on what follows outside of it.

use locknut_finding::{Finding, Page, Report, Span, page};

/// An `accept` without `otherwise`.
pub(crate) struct NoOtherwise {
    pub(crate) accept: Span,
}

impl Finding for NoOtherwise {
    const PAGE: Page = page!("LN307", "ln307_no_otherwise.md");

    fn show(&self, say: &mut Report) {
        say.title("nothing says what follows when the reading is not accepted");
        say.label(self.accept, "accepted inside this limit; and outside of it?");
        say.consequence(
            "the technician who reads a bad value stops, or goes on as if it were good",
        );
        say.mend("add a line: otherwise refer to \"Technical support\"");
    }
}
