//! LN607: a fastener that is declared oiled is tightened dry.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// A fastener that is declared oiled is tightened dry.
pub(crate) struct NotOiled {
    pub(crate) act: Span,
    pub(crate) thing: String,
    pub(crate) name: String,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for NotOiled {
    const PAGE: Page = page!("LN607", "ln607_not_oiled.md");

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "the {} are tightened dry, and their figure is for oiled threads",
            self.thing
        ));
        say.label(self.act, "tightened here");
        say.path(&self.path);
        say.consequence("the wrench clicks long before the joint is clamped, since friction takes up the torque");
        say.mend(format!("oil them after fitting: `apply … to {}`", self.name));
    }
}
