//! LN504: a subtask is called before what it starts with is so.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// A subtask is called before what it starts with is so.
pub(crate) struct NotReadyForSubtask {
    pub(crate) call: Span,
    pub(crate) starts: Span,
    pub(crate) subtask: String,
    pub(crate) wanted: String,
    pub(crate) stands: String,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for NotReadyForSubtask {
    const PAGE: Page = page!("LN504", "ln504_not_ready_for_subtask.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} is begun before {}", self.subtask, self.wanted));
        say.label(self.call, format!("begun here, with {}", self.stands));
        if self.starts != self.call {
            say.label(self.starts, "it starts with this");
        }
        say.path(&self.path);
        say.consequence(
            "the steps of the subtask are safe and right only from where it says that it starts",
        );
        say.fallback(format!("see to it that {} before the line with `do`", self.wanted));
    }
}
