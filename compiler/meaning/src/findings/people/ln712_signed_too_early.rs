//! LN712: work is signed for that may not be done yet.

use locknut_finding::{Finding, Page, Report, Span, page};

/// Somebody signs independently of a step that may not have ended.
pub(crate) struct SignedTooEarly {
    pub(crate) sign: Span,
    pub(crate) step: Span,
}

impl Finding for SignedTooEarly {
    const PAGE: Page = page!("LN712", "ln712_signed_too_early.md");

    fn show(&self, say: &mut Report) {
        say.title("this is signed for before the work is certain to be done");
        say.label(self.sign, "signed here");
        say.label(self.step, "this may still be ahead, or under way");
        say.consequence("a name stands under work that nobody has seen finished");
        say.mend("let the signature come behind that step on every way");
    }
}
