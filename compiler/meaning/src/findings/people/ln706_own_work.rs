//! LN706: somebody would inspect, or sign for, their own work.

use locknut_finding::{Finding, Page, Report, Span, page};

/// Whoever must be independent of some work may be the one who did it.
pub(crate) struct OwnWork {
    pub(crate) role: String,
    /// The step or act.
    pub(crate) work: Span,
    /// What asks for somebody else.
    pub(crate) asked: Span,
    /// An inspection, rather than a signature.
    pub(crate) inspects: bool,
}

impl Finding for OwnWork {
    const PAGE: Page = page!("LN706", "ln706_own_work.md");

    fn show(&self, say: &mut Report) {
        let what = if self.inspects { "inspect" } else { "sign for" };
        say.title(format!("the {} may have to {what} their own work", self.role));
        say.label(self.work, format!("this may be done by the {}", self.role));
        say.label(self.asked, "somebody else is asked for here");
        say.consequence("a second pair of eyes is promised, and the same pair looks twice");
        say.mend(format!(
            "let somebody else {what} it, or give the work to somebody else with `by`"
        ));
    }
}
