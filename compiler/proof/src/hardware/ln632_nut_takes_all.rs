//! LN632: a self-locking nut that may take all of the torque.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A self-locking nut that may take all of the torque.
pub(crate) struct NutTakesAll {
    /// The figure; or the act, where only its wrench makes it so.
    pub(crate) at: Span,
    pub(crate) figure: String,
    pub(crate) thing: String,
    /// The least that is brought.
    pub(crate) least: String,
    /// The wrench whose error makes it so.
    pub(crate) with: Option<String>,
    /// What the nut takes at most.
    pub(crate) greatest: String,
    pub(crate) declared: Span,
}

impl Finding for NutTakesAll {
    const PAGE: Page = page!("LN632", "ln632_nut_takes_all.md");

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "tightened to {}, the {} may not be clamped at all: the nut may take all of the torque",
            self.figure, self.thing
        ));
        let by = match &self.with {
            Some(wrench) => format!("the {wrench} may bring only {}", self.least),
            None => format!("this may be {}", self.least),
        };
        say.label(self.at, by);
        say.label(self.declared, format!("the nut takes up to {} by itself", self.greatest));
        say.consequence(
            "the wrench clicks before the face touches: the joint is loose, and looks as if it were tightened",
        );
        if self.with.is_some() {
            say.mend("take a wrench with a smaller error, or the maker's figure for this nut");
        } else {
            say.mend("take the maker's figure for this nut: what it takes by itself is part of it");
        }
        say.mend("or correct what this nut takes by itself: prevailing 2 .. 6 N·m");
    }
}
