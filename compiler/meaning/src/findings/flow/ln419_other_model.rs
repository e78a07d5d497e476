//! LN419: a subtask for another machine is called.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A subtask on another model than its caller's.
pub(crate) struct OtherModel {
    pub(crate) subtask: String,
    pub(crate) on: String,
    pub(crate) model: String,
    pub(crate) call: Span,
    pub(crate) declared: Span,
}

impl Finding for OtherModel {
    const PAGE: Page = page!("LN419", "ln419_other_model.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} is for another machine", self.subtask));
        say.label(self.call, format!("called for {}", self.model));
        say.label(self.declared, format!("it is for {}", self.on));
        say.consequence("its states and parts are those of the other machine");
        say.mend(format!("write the subtask on {} too, and call that", self.model));
    }
}
