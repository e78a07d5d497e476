//! LN348: sizes that fit no reading that can come.

use crate::findings::names::listed;
use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// Sizes of a list that are never taken.
pub(crate) struct SizeNeverTaken {
    pub(crate) sizes: Vec<String>,
    /// Where the sizes are listed.
    pub(crate) span: Span,
    /// What is aimed at: `rest`, and its range.
    pub(crate) result: String,
    pub(crate) range: String,
    /// Where the readings are taken.
    pub(crate) rests_on: Vec<Span>,
}

impl Finding for SizeNeverTaken {
    const PAGE: Page = page!("LN348", "ln348_size_never_taken.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        let (sizes, are) =
            (listed(&self.sizes, "and"), if self.sizes.len() == 1 { "is" } else { "are" });
        say.title(format!("{sizes} {are} never taken"));
        say.label(
            self.span,
            format!("with {sizes} the {} comes to {} for no reading", self.result, self.range),
        );
        self.rests_on.iter().for_each(|place| say.rests_on(*place));
        say.consequence("the size that was meant is missing, and the fitter is sent away though it lies on the shelf");
        say.mend("look the sizes up again; take out what is not used, or widen what is expected");
    }
}
