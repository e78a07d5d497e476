//! LN503: an act that the model forbids in this state.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// An act that the model forbids in this state.
pub(crate) struct ForbiddenAct {
    pub(crate) act: Span,
    pub(crate) rule: Span,
    pub(crate) written: String,
    pub(crate) because: String,
    pub(crate) stands: String,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for ForbiddenAct {
    const PAGE: Page = page!("LN503", "ln503_forbidden_act.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("this is done though it must never be: {}", self.written));
        say.label(self.act, format!("done here, with {}", self.stands));
        say.label(self.rule, "the machine forbids it");
        say.path(&self.path);
        say.consequence(&self.because);
        say.fallback(
            "before this line, bring the machine to where this is allowed, or take the line out",
        );
    }
}
