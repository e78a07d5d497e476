//! LN414: a line goes back to, or waits from, a step that may not have been done.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A step that some way here has not passed.
pub(crate) struct NotDoneBefore {
    pub(crate) name: String,
    pub(crate) at: Span,
    pub(crate) step: Span,
    /// It is waited from that step's end.
    pub(crate) for_a_wait: bool,
}

impl Finding for NotDoneBefore {
    const PAGE: Page = page!("LN414", "ln414_not_done_before.md");

    fn show(&self, say: &mut Report) {
        if self.for_a_wait {
            say.title(format!(
                "the time counts from {}, which may not have ended by then",
                self.name
            ));
        } else {
            say.title(format!("one cannot go back to {}, which may not have been done", self.name));
        }
        say.label(self.at, "named here");
        say.label(self.step, "some way to this line does not go through that step");
        say.consequence(if self.for_a_wait {
            "nobody knows from when to count, and may count too little"
        } else {
            "the technician is sent to a step that was never meant for this machine"
        });
        say.mend("name a step that every way to this line has gone through");
    }
}
