//! LN404: a wait counts from a step that some path has not done.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// A wait counts from a step that some path has not done.
pub(crate) struct WaitFromUndoneStep {
    pub(crate) wait: Span,
    pub(crate) step: Span,
    pub(crate) number: String,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for WaitFromUndoneStep {
    const PAGE: Page = page!("LN404", "ln404_wait_from_undone_step.md");

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "this wait counts from step {}, which has not been done on every path",
            self.number
        ));
        say.label(self.wait, "counts from there");
        say.label(self.step, "this step");
        say.path(&self.path);
        say.consequence("nobody knows when to begin to count, and the wait may be taken as over");
        say.mend("count from a step that is done on every path, or leave out `since`");
    }
}
