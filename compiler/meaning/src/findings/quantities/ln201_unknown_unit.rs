//! LN201: a unit that nothing declares.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A word after a number that is no unit.
pub(crate) struct UnknownUnit {
    pub(crate) unit: String,
    pub(crate) span: Span,
    pub(crate) near: Option<String>,
}

impl UnknownUnit {
    /// `in` is a word of the language: behind a number it was meant for the inch.
    pub(crate) fn inches(span: Span) -> Self {
        Self { unit: "in".to_owned(), span, near: Some("inch".to_owned()) }
    }
}

impl Finding for UnknownUnit {
    const PAGE: Page = page!("LN201", "ln201_unknown_unit.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} is not a unit that anyone here knows", self.unit));
        say.label(self.span, "declared by no vocabulary");
        if let Some(near) = &self.near {
            say.mend_with(format!("did you mean {near}?"), self.span, near);
        } else {
            say.mend("use a unit that the vocabulary declares, or declare this one");
        }
    }
}
