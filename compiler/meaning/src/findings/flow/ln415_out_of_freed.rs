//! LN415: a repeat that leaves or enters a block of freed steps.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A `repeat` across the edge of a freed child.
pub(crate) struct OutOfFreed {
    pub(crate) name: String,
    pub(crate) at: Span,
    pub(crate) step: Span,
}

impl Finding for OutOfFreed {
    const PAGE: Page = page!("LN415", "ln415_out_of_freed.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("one cannot go back to {} across an “any order” block", self.name));
        say.label(self.at, "goes back here");
        say.label(self.step, "to a step that is not in the same freed step or group");
        say.consequence("nobody could tell which of the freed steps count as done");
        say.mend("go back within the freed step or group, or take the check out of the block");
    }
}
