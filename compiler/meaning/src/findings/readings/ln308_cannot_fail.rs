//! LN308: a limit that every reading meets.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A check that cannot fail.
pub(crate) struct CannotFail {
    pub(crate) name: String,
    pub(crate) limit: String,
    pub(crate) span: Span,
    /// All that the reading can come to.
    pub(crate) can_be: String,
    pub(crate) bounded_by: String,
    /// All that a difference comes to the other way round, where it can fail then.
    pub(crate) turned: Option<String>,
}

impl Finding for CannotFail {
    const PAGE: Page = page!("LN308", "ln308_cannot_fail.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} is accepted whatever it is", self.name));
        say.label(self.span, format!("it can only be {}, all of which is accepted", self.can_be));
        say.consequence("the line looks like a check and finds nothing out");
        say.note(self.bounded_by.clone());
        if let Some(turned) = &self.turned {
            say.mend(format!("look which is taken from which: the other way round it comes to {turned}, and can fail"));
        }
        say.mend(format!("narrow “{}”, widen what is expected, or take the limit out", self.limit));
    }
}
