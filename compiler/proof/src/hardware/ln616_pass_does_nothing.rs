//! LN616: a later pass of a tightening that is below one ahead of it.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A later pass of a tightening that is below one ahead of it.
pub(crate) struct PassDoesNothing {
    pub(crate) at: Span,
    pub(crate) thing: String,
    pub(crate) pass: String,
    pub(crate) before: String,
}

impl Finding for PassDoesNothing {
    const PAGE: Page = page!("LN616", "ln616_pass_does_nothing.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("to tighten the {} to {} does nothing", self.thing, self.pass));
        say.label(self.at, format!("{} comes after {}", self.pass, self.before));
        say.consequence(format!(
            "the wrench clicks before anything has moved: the {} stay at {}",
            self.thing, self.before
        ));
        say.mend("order the passes from the least torque to the greatest, and end with the maker's figure");
        say.mend("where they are to be slackened in between, write two acts: slacken them, and tighten them again");
    }
}
