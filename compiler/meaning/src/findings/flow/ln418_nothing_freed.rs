//! LN418: an “any order” that frees nothing.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// A freed block with fewer than two children.
pub(crate) struct NothingFreed {
    pub(crate) span: Span,
    pub(crate) children: usize,
}

impl Finding for NothingFreed {
    const PAGE: Page = page!("LN418", "ln418_nothing_freed.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        let there = if self.children == 0 { "nothing to do" } else { "only one thing to do" };
        say.title(format!("“any order” with {there}"));
        say.label(self.span, "an order is only free among several");
        say.mend("take “any order” away, or put the steps into it that may be done in any order");
    }
}
