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
    /// The readings that can come to it, and where they are taken; none: a figure is wrong that its author wrote.
    pub(crate) narrow: Option<(String, Vec<Span>)>,
}

impl Finding for ImpossibleValue {
    const PAGE: Page = page!("LN204", "ln204_impossible_value.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} cannot be: {}", self.written, self.why));
        say.label(self.span, &self.why);
        say.consequence(
            "such a figure was meant otherwise: whoever works by it does something else than its author wants",
        );
        if let Some((readings, places)) = &self.narrow {
            for place in places {
                say.label(*place, "what is expected here leaves that open");
            }
            say.mend(format!("narrow “expect” of {readings}, so that it cannot come to 0"));
            return;
        }
        match &self.instead {
            Some(instead) => say.mend_with(format!("write {instead}"), self.span, instead),
            None => say.mend("look the figure up again at its source"),
        }
    }
}
