//! LN659: an angle of more than a whole turn.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A stage by angle that no joint is tightened by.
pub(crate) struct TurnedTooFar {
    pub(crate) angle: String,
    pub(crate) span: Span,
}

impl Finding for TurnedTooFar {
    const PAGE: Page = page!("LN659", "ln659_turned_too_far.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("by {} nothing is tightened: it is more than a whole turn", self.angle));
        say.label(self.span, "turned on so far, once the faces are tight");
        say.consequence("the bolt is turned until it breaks, or the thread strips");
        say.mend(
            "write the angle as its source gives it, in degrees: then turned 90° is a quarter turn",
        );
    }
}
