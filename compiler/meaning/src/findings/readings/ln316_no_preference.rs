//! LN316: several sizes fit and nothing says which is taken.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A choice among several without a preference.
pub(crate) struct NoPreference {
    pub(crate) name: String,
    pub(crate) span: Span,
}

impl Finding for NoPreference {
    const PAGE: Page = page!("LN316", "ln316_no_preference.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("more than one {} fits, and nothing says which is taken", self.name));
        say.label(self.span, "for some readings several sizes fit");
        say.consequence("two workshops with one reading fit different parts");
        say.mend("add: prefer largest (or smallest, or nearest to a figure)");
    }
}
