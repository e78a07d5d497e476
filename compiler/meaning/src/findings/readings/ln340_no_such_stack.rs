//! LN340: so many pieces are not stacked.

use locknut_finding::{Finding, Page, Report, Span, page};

/// `up to 0 of`, `up to 2.5 of`, `up to 300 of`.
pub(crate) struct NoSuchStack {
    pub(crate) written: String,
    pub(crate) span: Span,
    /// The most pieces that are stacked.
    pub(crate) most: usize,
}

impl Finding for NoSuchStack {
    const PAGE: Page = page!("LN340", "ln340_no_such_stack.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("nobody can stack up to {} pieces", self.written));
        say.label(self.span, format!("wanted is a whole number from 1 to {}", self.most));
        say.consequence("the sheet could not say which pieces are fitted");
        say.mend(
            "write: up to 3 of; of what needs no piece at all, an “otherwise” says what follows",
        );
    }
}
