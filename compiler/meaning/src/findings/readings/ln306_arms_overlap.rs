//! LN306: readings for which two arms say what follows.

use locknut_finding::{Finding, Page, Report, Span, page};

/// Two arms that both cover something.
pub(crate) struct ArmsOverlap {
    pub(crate) name: String,
    /// What both cover.
    pub(crate) shared: String,
    pub(crate) first: Span,
    pub(crate) again: Span,
}

impl Finding for ArmsOverlap {
    const PAGE: Page = page!("LN306", "ln306_arms_overlap.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("two arms say what follows when {} is {}", self.name, self.shared));
        say.label(self.again, format!("this arm covers {}", self.shared));
        say.label(self.first, "and so does this one");
        say.consequence("two technicians with one reading do two different things");
        say.mend("let one of them end where the other begins: “at most” beside “over”");
    }
}
