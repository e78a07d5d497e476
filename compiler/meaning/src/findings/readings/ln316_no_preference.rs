//! LN316: several sizes fit and nothing says which is taken.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A choice among several without a preference.
pub(crate) struct NoPreference {
    pub(crate) name: String,
    pub(crate) span: Span,
    pub(crate) stacked: bool,
}

impl Finding for NoPreference {
    const PAGE: Page = page!("LN316", "ln316_no_preference.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("more than one {} fits, and nothing says which is taken", self.name));
        if self.stacked {
            say.label(self.span, "for some readings stacks of several heights fit");
            say.consequence("two workshops with one reading fit different parts");
            say.mend("add: prefer fewest (or smallest, largest, or nearest to a figure)");
            return;
        }
        say.label(self.span, "for some readings several sizes fit");
        say.consequence("two workshops with one reading fit different parts");
        say.mend("add: prefer largest (or smallest, or nearest to a figure)");
    }
}
