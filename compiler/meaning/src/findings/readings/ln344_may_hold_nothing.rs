//! LN344: a limit that moves leaves no reading in it.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A limit whose ends are worked out, and may come past each other or between two digits.
pub(crate) struct MayHoldNothing {
    pub(crate) name: String,
    pub(crate) limit: String,
    pub(crate) span: Span,
    /// How its ends may lie.
    pub(crate) why: String,
}

impl Finding for MayHoldNothing {
    const PAGE: Page = page!("LN344", "ln344_may_hold_nothing.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} may come to hold no reading of {}", self.limit, self.name));
        say.label(self.span, self.why.clone());
        say.consequence("then no machine gets past this line, however good it is");
        say.mend(
            "narrow what is expected of the readings that its ends hang on, or write ends that cannot come so close",
        );
    }
}
