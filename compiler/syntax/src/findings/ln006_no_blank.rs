//! LN006: a minus without a blank behind it.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A minus without a blank behind it.
pub(crate) struct NoBlank {
    pub(crate) place: Span,
}

impl Finding for NoBlank {
    const PAGE: Page = page!("LN006", "ln006_no_blank.md");

    fn show(&self, say: &mut Report) {
        say.title("it cannot be told whether this minus subtracts or belongs to a name");
        say.label(self.place, "a blank belongs on both sides");
        say.consequence("gap-shim is one name; gap - shim is a difference");
        say.mend_with("put a blank behind it", self.place, "- ");
    }
}
