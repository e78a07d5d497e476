//! LN510: a subtask does not leave what it says it leaves.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// A subtask does not leave what it says it leaves.
pub(crate) struct NotLeftSo {
    pub(crate) owed: Span,
    pub(crate) subtask: String,
    pub(crate) variable: String,
    pub(crate) stands: String,
    pub(crate) wanted: String,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for NotLeftSo {
    const PAGE: Page = page!("LN510", "ln510_not_left_so.md");

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "{} ends with the {} {}, and says it leaves it {}",
            self.subtask, self.variable, self.stands, self.wanted
        ));
        say.label(self.owed, "this is promised");
        say.path(&self.path);
        say.consequence("the steps after the call rest on the promise");
        say.fallback("keep the promise before the subtask ends, or take it out of `leaves`");
    }
}
