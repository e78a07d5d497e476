//! LN004: brackets in brackets, or a chain, beyond what is read.

use locknut_finding::{Finding, Page, Report, Span, page};

/// Brackets in brackets, or a chain, beyond what is read.
pub(crate) struct TooDeep {
    pub(crate) place: Span,
    pub(crate) chain: bool,
}

impl Finding for TooDeep {
    const PAGE: Page = page!("LN004", "ln004_too_deep.md");

    fn show(&self, say: &mut Report) {
        if self.chain {
            say.title("this line chains more than 200 operators");
            say.label(self.place, "too long to be read");
            say.mend("split it, or give parts of it names of their own");
        } else {
            say.title("blocks stand in each other more than 64 deep");
            say.label(self.place, "the 65th opens here");
            say.mend("make a subtask of the inner steps");
        }
        say.consequence("nobody can follow such a line or block, on paper or on a screen");
    }
}
