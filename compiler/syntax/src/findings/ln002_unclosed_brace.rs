//! LN002: a brace that is not closed, or closes nothing.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A brace that is not closed, or closes nothing.
pub(crate) struct UnclosedBrace {
    pub(crate) place: Span,
    pub(crate) opens: bool,
}

impl Finding for UnclosedBrace {
    const PAGE: Page = page!("LN002", "ln002_unclosed_brace.md");

    fn show(&self, say: &mut Report) {
        if self.opens {
            say.title("a brace is opened here and never closed");
            say.label(self.place, "opened here");
            say.mend("close it with } where the block ends");
        } else {
            say.title("a brace closes nothing");
            say.label(self.place, "nothing is open here");
            say.mend("take it out, or open a block with { before it");
        }
        say.consequence("it cannot be told which lines belong to which step");
    }
}
