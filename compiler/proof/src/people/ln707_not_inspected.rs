//! LN707: an inspection is due, and the job ends without it.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// The job ends with an inspection still due.
pub(crate) struct NotInspected {
    pub(crate) work: Span,
    pub(crate) declared: Span,
    pub(crate) who: String,
    /// The same as it is written.
    pub(crate) role: String,
    pub(crate) thing: String,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for NotInspected {
    const PAGE: Page = page!("LN707", "ln707_not_inspected.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("the {} is not inspected after this work", self.thing));
        say.label(self.work, format!("after this the {} must look at it", self.who));
        say.label(self.declared, "asked for here");
        say.path(&self.path);
        say.consequence("the machine goes back with work on it that nobody else has seen");
        say.mend(format!("add behind this work: sign \"…\" by {}", self.role));
    }
}
