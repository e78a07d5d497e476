//! LN119: one part number for two sizes.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// One part number for two sizes.
pub(crate) struct OneNumberForTwo {
    pub(crate) number: String,
    /// `3 mm of the shims`
    pub(crate) size: String,
    pub(crate) place: Span,
    pub(crate) other: String,
    pub(crate) other_at: Span,
}

impl Finding for OneNumberForTwo {
    const PAGE: Page = page!("LN119", "ln119_one_number_for_two.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!("{} is the part number of two sizes", self.number));
        say.label(self.place, self.size.clone());
        say.label(self.other_at, self.other.clone());
        say.consequence(
            "the sheet names the part by its number: whoever takes it by that may fit the other size",
        );
        say.mend("look both up in the parts list, and give each its own number");
    }
}
