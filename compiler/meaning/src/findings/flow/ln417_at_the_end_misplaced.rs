//! LN417: “at the end” where it has no end to speak of.

use locknut_finding::{Finding, Page, Report, Span, page};

/// `at the end` inside something.
pub(crate) struct AtTheEndMisplaced {
    pub(crate) span: Span,
    pub(crate) in_subtask: bool,
}

impl Finding for AtTheEndMisplaced {
    const PAGE: Page = page!("LN417", "ln417_at_the_end_misplaced.md");

    fn show(&self, say: &mut Report) {
        say.title("“at the end” has no place here");
        if self.in_subtask {
            say.label(self.span, "a subtask does not end the job");
            say.mend("write it in the procedure, or as the last step of the subtask");
        } else {
            say.label(
                self.span,
                "what only some ways go through cannot speak for the end of the job",
            );
            say.mend("write it straight in the procedure or a section, and ask there: when …");
        }
    }
}
