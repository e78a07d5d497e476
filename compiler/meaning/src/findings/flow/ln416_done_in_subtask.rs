//! LN416: a subtask that ends the whole job as done.

use locknut_finding::{Finding, Page, Report, Span, page};

/// `done` where the caller still has steps.
pub(crate) struct DoneInSubtask {
    pub(crate) span: Span,
}

impl Finding for DoneInSubtask {
    const PAGE: Page = page!("LN416", "ln416_done_in_subtask.md");

    fn show(&self, say: &mut Report) {
        say.title("a subtask cannot say that the whole job is done");
        say.label(self.span, "the procedure that calls it still has steps");
        say.consequence("the machine would be handed back with the caller's work undone");
        say.mend("write “go on”, and the caller goes on with its next line");
    }
}
