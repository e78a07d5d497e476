//! LN317: what a choice is taken from cannot be used.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A set of sizes that is none.
pub(crate) struct UnusableSet {
    pub(crate) span: Span,
    pub(crate) why: String,
}

impl Finding for UnusableSet {
    const PAGE: Page = page!("LN317", "ln317_unusable_set.md");

    fn show(&self, say: &mut Report) {
        say.title("nothing can be chosen from this");
        say.label(self.span, self.why.clone());
        say.consequence("the look-up table on the sheet would be empty or wrong");
        say.mend("write a list: from 0.20, 0.30, 0.50 mm; or steps: from 2.00 .. 3.20 mm in steps of 0.05 mm");
    }
}
