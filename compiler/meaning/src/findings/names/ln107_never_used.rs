//! LN107: something is declared and nothing uses it.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// A value, limit, instrument, tool or consumable that no line names.
pub(crate) struct NeverUsed {
    /// `limit`, `instrument`, …
    pub(crate) what: String,
    pub(crate) name: String,
    pub(crate) span: Span,
}

impl Finding for NeverUsed {
    const PAGE: Page = page!("LN107", "ln107_never_used.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!("nothing uses the {} {}", self.what, self.name));
        say.label(self.span, "named here and nowhere else");
        say.consequence("if a step was meant to use it, that step says something else");
        say.mend("use it where it was meant, or take it out");
    }
}
