//! LN318: a reading is asked for before it is taken.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A name of a reading that a later line takes.
pub(crate) struct NotYetRead {
    pub(crate) name: String,
    pub(crate) span: Span,
    pub(crate) later: Span,
}

impl Finding for NotYetRead {
    const PAGE: Page = page!("LN318", "ln318_not_yet_read.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} has not been read yet", self.name));
        say.label(self.span, "asked for here");
        say.label(self.later, "read only here");
        say.consequence("the technician comes to this line with an empty field");
        say.mend(format!("put the line that reads {} ahead of this one", self.name));
    }
}
