//! LN515: the job may wait, undecided, where the machine is not safe to leave.

use crate::leave::Rule;
use locknut_finding::{Finding, Page, PathPoint, Report, Severity, Span, page};

/// A guarded reading may be undecided where the machine is not safe to leave.
pub(crate) struct UnsafeWait {
    /// What is accepted at the reading.
    pub(crate) limit: Span,
    pub(crate) rules: Vec<Rule>,
    pub(crate) reading: String,
    pub(crate) stands: String,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for UnsafeWait {
    const PAGE: Page = page!("LN515", "ln515_unsafe_wait.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "the job may wait here for a better instrument, and it is not safe to leave: {}",
            self.stands
        ));
        say.label(
            self.limit,
            format!("near this limit, the reading of {} decides nothing", self.reading),
        );
        self.rules.iter().for_each(|rule| rule.show(say));
        say.path(&self.path);
        say.consequence(
            "whoever goes for a better instrument leaves the machine as it is to whoever comes next",
        );
        say.mend("have such a reading refused: guarded, undecided counts as outside");
        if self.rules.iter().any(|rule| !rule.said) {
            say.mend("or say of the machine how it may be left: safe to leave when …");
        }
        say.mend("or say who stays with it: despite LN515 because \"…\"");
    }
}
