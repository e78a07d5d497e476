//! LN703: people side by side who wait for one another for ever.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// People side by side who wait for one another for ever.
pub(crate) struct WaitingForEachOther {
    pub(crate) block: Span,
    /// Where each of them waits, and for what.
    pub(crate) waits: Vec<(Span, String)>,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for WaitingForEachOther {
    const PAGE: Page = page!("LN703", "ln703_waiting_for_each_other.md");

    fn show(&self, say: &mut Report) {
        say.title("each waits for the other here, and nobody can go on");
        for (at, what) in &self.waits {
            say.label(*at, format!("waits until {what}"));
        }
        say.label(self.block, "they work side by side here");
        say.path(&self.path);
        say.consequence("they stand with their hands full until one of them lets go");
        say.mend("let one of them hold, or wait, only for what the other does without waiting");
    }
}
