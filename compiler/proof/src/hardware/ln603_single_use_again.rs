//! LN603: a part that may be used once only goes back.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// A part that may be used once only goes back.
pub(crate) struct SingleUseAgain {
    pub(crate) act: Span,
    pub(crate) part: String,
    pub(crate) verb_fix: String,
    /// Whether it was only slackened, and is tightened again.
    pub(crate) were_slack: bool,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for SingleUseAgain {
    const PAGE: Page = page!("LN603", "ln603_single_use_again.md");

    fn show(&self, say: &mut Report) {
        if self.were_slack {
            say.title(format!(
                "the old {} are tightened again, and may be used once only",
                self.part
            ));
            say.label(self.act, "tightened again here, after they were slackened");
            say.path(&self.path);
            say.consequence(
                "a bolt that was stretched once is thinner and harder: the next time it breaks",
            );
            say.fallback(format!("take new ones: `remove {0}`, `renew {0}`", self.verb_fix));
            return;
        }
        say.title(format!("the old {} goes back, and it may be used once only", self.part));
        say.label(self.act, "fitted again here");
        say.path(&self.path);
        say.consequence(
            "a seal or disc that has been squeezed once leaks or fails the second time",
        );
        say.fallback(format!("take a new one: `renew {}`", self.verb_fix));
    }
}
