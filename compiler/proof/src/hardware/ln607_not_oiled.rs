//! LN607: a fastener that is declared oiled is tightened dry; or without paste, or whatever else its figure is for.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// A fastener is tightened without what its figure is for.
pub(crate) struct NotOiled {
    pub(crate) act: Span,
    pub(crate) thing: String,
    pub(crate) name: String,
    /// `oiled`, `moly-greased`
    pub(crate) condition: String,
    /// What something does that makes it so: `oils`.
    pub(crate) by: String,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for NotOiled {
    const PAGE: Page = page!("LN607", "ln607_not_oiled.md");

    fn show(&self, say: &mut Report) {
        let Self { thing, name, condition, by, .. } = self;
        say.title(format!(
            "the {thing} are tightened dry, and their figure is for {condition} threads"
        ));
        say.label(self.act, "tightened here");
        say.path(&self.path);
        say.consequence(if condition == "thread-locked" {
            "nothing keeps them from working loose"
        } else {
            "the wrench clicks long before the joint is clamped, since friction takes up the torque"
        });
        say.mend(format!(
            "apply something that {by} ahead of this line: `apply … to {name}`; its own line says so: `consumable … {{ {by} }}`"
        ));
    }
}
