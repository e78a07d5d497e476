//! LN436: the job may end inside a block of work that must not be broken off.

use locknut_finding::{Finding, Page, Report, Span, page};

/// `stop` or `refer to` inside `without a break`, or a reading there that may be undecided.
pub(crate) struct BrokenOff {
    end: Span,
    block: Span,
    waits: bool,
}

impl BrokenOff {
    /// The job ends in it.
    pub(crate) fn ends(end: Span, block: Span) -> Self {
        Self { end, block, waits: false }
    }

    /// A guarded limit may leave the job waiting in it.
    pub(crate) fn waits(limit: Span, block: Span) -> Self {
        Self { end: limit, block, waits: true }
    }
}

impl Finding for BrokenOff {
    const PAGE: Page = page!("LN436", "ln436_broken_off.md");

    fn show(&self, say: &mut Report) {
        if self.waits {
            say.title("the job may wait in the middle of work that must not be broken off");
            say.label(self.end, "near this limit it waits for a better instrument");
            say.label(self.block, "this block is to be done without a break");
            say.consequence("the work stands still for as long as it takes to bring one");
            say.mend("have such a reading refused: guarded, undecided counts as outside");
            say.mend("or take the reading ahead of the block");
            return;
        }
        say.title("the job may end in the middle of work that must not be broken off");
        say.label(self.end, "it ends here");
        say.label(self.block, "this block is to be done without a break");
        say.consequence("the sheet says both “do not leave” and “stop”, one line below the other");
        say.mend("read and decide ahead of the block, or end the block before this reading");
    }
}
