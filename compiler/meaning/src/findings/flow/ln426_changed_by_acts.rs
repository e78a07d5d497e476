//! LN426: a thing is set as if it were a state.

use crate::findings::names::listed;
use locknut_finding::{Finding, Page, Report, Span, page};

/// `set` on something that its own acts change.
pub(crate) struct ChangedByActs {
    pub(crate) name: String,
    pub(crate) span: Span,
    pub(crate) acts: Vec<String>,
    pub(crate) declared: Span,
}

impl Finding for ChangedByActs {
    const PAGE: Page = page!("LN426", "ln426_changed_by_acts.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} cannot be set: it is changed by what is done to it", self.name));
        say.label(self.span, "no state");
        say.label(self.declared, "declared here");
        if self.acts.is_empty() {
            say.mend("say what is done");
        } else {
            say.mend(format!("say what is done: {}", listed(&self.acts, "or")));
        }
    }
}
