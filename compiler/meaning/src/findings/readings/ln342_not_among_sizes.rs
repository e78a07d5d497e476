//! LN342: a row of a table names a size that there is not.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A part that is not among those chosen from.
pub(crate) struct NotAmongSizes {
    pub(crate) written: String,
    pub(crate) span: Span,
    /// What is chosen from, as written.
    pub(crate) from: String,
    pub(crate) declared: Span,
    /// The sizes nearest to it.
    pub(crate) near: String,
}

impl Finding for NotAmongSizes {
    const PAGE: Page = page!("LN342", "ln342_not_among_sizes.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("there is no {} to fit", self.written));
        say.label(self.span, format!("no such size in {}", self.from));
        say.label(self.declared, "chosen from this");
        say.consequence("the sheet sends the technician for a part that does not exist");
        say.mend(format!("write {}; or declare the size", self.near));
    }
}
