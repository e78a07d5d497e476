//! LN010: a reading with both accept and arms.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A reading with both accept and arms.
pub(crate) struct AcceptAndArms {
    pub(crate) place: Span,
    pub(crate) reading: Span,
}

impl Finding for AcceptAndArms {
    const PAGE: Page = page!("LN010", "ln010_accept_and_arms.md");

    fn show(&self, say: &mut Report) {
        say.title("this reading has both accept and arms");
        say.label(self.reading, "two ways of judging one reading");
        say.label(self.place, "an arm");
        say.consequence("where the two differ, nobody knows which holds");
        say.mend("keep accept and otherwise, or write every outcome as an arm");
    }
}
