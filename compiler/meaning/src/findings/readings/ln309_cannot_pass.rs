//! LN309: a limit that no reading meets.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A check that cannot pass.
pub(crate) struct CannotPass {
    pub(crate) name: String,
    pub(crate) limit: String,
    pub(crate) span: Span,
    /// All that the reading can come to.
    pub(crate) can_be: String,
    pub(crate) bounded_by: String,
}

impl Finding for CannotPass {
    const PAGE: Page = page!("LN309", "ln309_cannot_pass.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} is never accepted", self.name));
        say.label(self.span, format!("it can only be {}, none of which is accepted", self.can_be));
        say.consequence("no machine gets past this line, however good it is");
        say.note(self.bounded_by.clone());
        say.mend(format!("look at “{}” again, or at what is expected", self.limit));
    }
}
