//! LN423: a thing that does not take this act.

use crate::findings::names::listed;
use locknut_finding::{Finding, Page, Report, Span, page};

/// An act that another sort of thing takes.
pub(crate) struct NotTaken {
    pub(crate) verb: String,
    pub(crate) verb_span: Span,
    pub(crate) thing: String,
    pub(crate) thing_span: Span,
    /// What the thing is: `one of the bolts of this model`.
    pub(crate) is: Option<String>,
    pub(crate) acts: Vec<String>,
    pub(crate) near: Option<String>,
}

impl Finding for NotTaken {
    const PAGE: Page = page!("LN423", "ln423_not_taken.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("one cannot {} {}", self.verb, self.thing));
        match &self.is {
            Some(is) => say.label(self.thing_span, format!("{} is {is}", self.thing)),
            None => say.label(self.thing_span, "it takes no such act"),
        }
        if self.acts.is_empty() {
            say.mend(format!("set it instead: set {} to …", self.thing));
            return;
        }
        say.note(format!("it takes: {}", listed(&self.acts, "and")));
        match &self.near {
            Some(near) => say.mend_with(format!("did you mean {near}?"), self.verb_span, near),
            None => say.mend("use one of these, or name another thing"),
        }
    }
}
