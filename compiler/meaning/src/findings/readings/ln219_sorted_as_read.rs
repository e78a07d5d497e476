//! LN219: a library guards its limits, and the arms of a reading do not say who takes what lies near an edge.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// Two arms that meet, of which neither says how its ends decide.
pub(crate) struct SortedAsRead {
    pub(crate) name: String,
    pub(crate) below: Span,
    pub(crate) above: Span,
}

impl Finding for SortedAsRead {
    const PAGE: Page = page!("LN219", "ln219_sorted_as_read.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!("{} near the edge of two arms goes to either of them", self.name));
        say.label(self.below, "this arm ends within the error of the reading,");
        say.label(self.above, "where this one begins");
        say.consequence(
            "a machine that belongs to the worse arm is taken for better, though this library guards its limits",
        );
        say.mend("write “guarded” behind the arm that must be sure, best first, or “as read” behind one of both");
    }
}
