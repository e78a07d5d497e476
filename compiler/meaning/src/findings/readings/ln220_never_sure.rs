//! LN220: an arm is guarded, and at each of its edges another arm is the sure one.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// A guarded arm that gives nothing up, and takes what its neighbours give.
pub(crate) struct NeverSure {
    pub(crate) name: String,
    /// Where it says `guarded`.
    pub(crate) said: Span,
    /// A neighbour that stands before it.
    pub(crate) before: Span,
}

impl Finding for NeverSure {
    const PAGE: Page = page!("LN220", "ln220_never_sure.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        let name = &self.name;
        say.title(format!("an arm of {name} is guarded, and takes readings beyond its own limit"));
        say.label(self.said, "this is the sure one at none of its edges");
        say.label(self.before, "this stands before it, and is the sure one where they meet");
        say.consequence("a part that may be worn is passed by an arm that looks strict");
        say.mend("write the arm that must be sure first: of two guarded arms that meet, the first gives what is too near to their edge to the other");
    }
}
