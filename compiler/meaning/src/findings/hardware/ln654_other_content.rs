//! LN654: another content than the machine is declared to have.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A fluid that is filled with something else.
pub(crate) struct OtherContent {
    pub(crate) thing: String,
    pub(crate) filled: String,
    pub(crate) span: Span,
    pub(crate) declared: String,
    pub(crate) declared_at: Span,
}

impl Finding for OtherContent {
    const PAGE: Page = page!("LN654", "ln654_other_content.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} is filled with something else than the machine takes", self.thing));
        say.label(self.span, format!("here {}", self.filled));
        say.label(self.declared_at, format!("the machine takes {}", self.declared));
        say.consequence("seals and gears that were made for one oil fail in another");
        say.mend(
            "leave “with” out, and the machine's is printed; or give the reason: because \"…\"",
        );
    }
}
