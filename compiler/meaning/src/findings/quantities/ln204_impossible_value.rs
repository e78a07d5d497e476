//! LN204: a figure that cannot be.

use locknut_finding::{Finding, Page, Report, Span, page};

/// An empty range, a negative resolution, a division by nothing.
pub(crate) struct ImpossibleValue {
    /// As its author wrote it.
    pub(crate) written: String,
    pub(crate) span: Span,
    /// What is impossible about it, in a sentence: `no value lies in it`.
    pub(crate) why: String,
    /// What to write instead, where it is clear.
    pub(crate) instead: Option<String>,
}

impl Finding for ImpossibleValue {
    const PAGE: Page = page!("LN204", "ln204_impossible_value.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} cannot be: {}", self.written, self.why));
        say.label(self.span, &self.why);
        match &self.instead {
            Some(instead) => say.mend_with(format!("write {instead}"), self.span, instead),
            None => say.mend("look the figure up again at its source"),
        }
    }
}
