//! LN509: a subtask changes something that it does not say it leaves changed.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// A subtask changes something that it does not say it leaves changed.
pub(crate) struct NotAsFound {
    pub(crate) written_at: Span,
    pub(crate) subtask: String,
    pub(crate) variable: String,
    pub(crate) stands: String,
    pub(crate) name: String,
    pub(crate) value_name: String,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for NotAsFound {
    const PAGE: Page = page!("LN509", "ln509_not_as_found.md");

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "{} gives the {} back {}, which is not how it found it",
            self.subtask, self.variable, self.stands
        ));
        say.label(self.written_at, "changed here");
        say.path(&self.path);
        say.consequence("the procedure that called it goes on as if nothing had changed");
        say.fallback("undo the change before the subtask ends");
        say.mend(format!("or say so at its head: `leaves {} is {}`", self.name, self.value_name));
    }
}
