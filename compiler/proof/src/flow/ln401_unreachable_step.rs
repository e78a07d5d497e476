//! LN401: a step that no path reaches.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A step that no path reaches.
pub(crate) struct UnreachableStep {
    pub(crate) step: Span,
    pub(crate) number: String,
}

impl Finding for UnreachableStep {
    const PAGE: Page = page!("LN401", "ln401_unreachable_step.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("nobody ever comes to step {}", self.number));
        say.label(self.step, "no path leads here");
        say.consequence(
            "the step stands on the sheet and is never open; the fitter wonders when to do it",
        );
        say.mend("take it out, or let a path lead to it: look at the ends of the steps and the arms before it");
    }
}
