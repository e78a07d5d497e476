//! LN711: something is held until a step is done that is done already.

use locknut_finding::{Finding, Page, Report, Span, page};

/// The step until whose end something is held lies behind.
pub(crate) struct HeldTooLate {
    pub(crate) hold: Span,
    pub(crate) step: Span,
}

impl Finding for HeldTooLate {
    const PAGE: Page = page!("LN711", "ln711_held_too_late.md");

    fn show(&self, say: &mut Report) {
        say.title("this is held until a step is done that is done already");
        say.label(self.hold, "the hold begins here");
        say.label(self.step, "this step is over by then");
        say.consequence("whoever holds it is never told to let go");
        say.mend("move the hold ahead of that step, or name a later one");
    }
}
