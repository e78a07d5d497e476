//! LN110: a state that can never change.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A state with a single value.
pub(crate) struct NoChoice {
    pub(crate) state: String,
    pub(crate) value: String,
    pub(crate) span: Span,
}

impl Finding for NoChoice {
    const PAGE: Page = page!("LN110", "ln110_no_choice.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} can never be anything but {}", self.state, self.value));
        say.label(self.span, "only one value");
        say.consequence("no step can change it, and a rule that speaks of it says nothing");
        say.mend("add the other value that it can have, after a comma");
    }
}
