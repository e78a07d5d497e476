//! LN109: a state is said to have a value that it never has.

use super::listed;
use locknut_finding::{Finding, Page, Report, Span, page};

/// A value that a state, element or tool cannot have.
pub(crate) struct UnknownValue {
    pub(crate) subject: String,
    pub(crate) value: String,
    pub(crate) span: Span,
    /// What it can be.
    pub(crate) values: Vec<String>,
    pub(crate) near: Option<String>,
    pub(crate) declared: Span,
}

impl Finding for UnknownValue {
    const PAGE: Page = page!("LN109", "ln109_unknown_value.md");

    fn show(&self, say: &mut Report) {
        let values = listed(&self.values, "or");
        say.title(format!("{} is never {}", self.subject, self.value));
        say.label(self.span, format!("it can be {values}"));
        say.label(self.declared, "declared here");
        if let Some(near) = &self.near {
            say.mend_with(format!("did you mean {near}?"), self.span, near);
        } else {
            say.mend(format!("write {values}"));
        }
    }
}
