//! LN512: the job may end where the machine is not safe to leave.

use crate::leave::Rule;
use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// The job may end where the machine is not safe to leave.
pub(crate) struct UnsafeStop {
    pub(crate) end: Span,
    pub(crate) rules: Vec<Rule>,
    pub(crate) stands: String,
    pub(crate) since: Option<Span>,
    pub(crate) how: &'static str,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for UnsafeStop {
    const PAGE: Page = page!("LN512", "ln512_unsafe_stop.md");

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "the job may {} here, and it is not safe to leave: {}",
            self.how, self.stands
        ));
        say.label(self.end, "ends here");
        if let Some(since) = self.since {
            say.label(since, "like this since here");
        }
        self.rules.iter().for_each(|rule| rule.show(say));
        say.path(&self.path);
        say.consequence("everybody goes away and the machine can hurt whoever comes next");
        if self.rules.iter().any(|rule| !rule.said) {
            say.mend("say of the machine how it may be left: safe to leave when …");
        }
        if self.rules.iter().any(|rule| rule.said) {
            say.fallback(
                "put a block of acts before it that makes the machine safe: `otherwise { … } then …`",
            );
        }
    }
}
