//! LN424: braces that the act does not take.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A block, limits or arms where none are taken.
pub(crate) struct BlockDoesNotFit {
    pub(crate) verb: String,
    /// `accept`, `otherwise`, `arms`, `a block`.
    pub(crate) what: &'static str,
    pub(crate) span: Span,
    pub(crate) form: String,
}

impl Finding for BlockDoesNotFit {
    const PAGE: Page = page!("LN424", "ln424_block_does_not_fit.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("“{}” takes no {}", self.verb, self.what));
        say.label(self.span, "this does not belong here");
        say.mend(format!("write: {}", self.form));
    }
}
