//! LN436: the job may end inside a block of work that must not be broken off.

use locknut_finding::{Finding, Page, Report, Span, page};

/// `stop` or `refer to` inside `without a break`.
pub(crate) struct BrokenOff {
    pub(crate) end: Span,
    pub(crate) block: Span,
}

impl Finding for BrokenOff {
    const PAGE: Page = page!("LN436", "ln436_broken_off.md");

    fn show(&self, say: &mut Report) {
        say.title("the job may end in the middle of work that must not be broken off");
        say.label(self.end, "it ends here");
        say.label(self.block, "this block is to be done without a break");
        say.consequence("the sheet says both “do not leave” and “stop”, one line below the other");
        say.mend("read and decide ahead of the block, or end the block before this reading");
    }
}
