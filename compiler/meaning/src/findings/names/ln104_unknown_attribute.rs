//! LN104: a thing is said to be something that its kind does not know.

use locknut_finding::{Finding, Page, Report, Span, page};

/// Words after a thing's colon, or in its block, that its kind does not take.
pub(crate) struct UnknownAttribute {
    /// What it would be said of: `the bolts cover-bolts`, `the instrument feeler-gauge`.
    pub(crate) kind: String,
    /// The words as written.
    pub(crate) written: String,
    pub(crate) span: Span,
    pub(crate) near: Option<String>,
    /// The word that `near` would stand for.
    pub(crate) word: Span,
    /// How figures of its kind are written, where these words look like some.
    pub(crate) like: Option<&'static str>,
    /// What its kind takes.
    pub(crate) takes: Vec<String>,
}

impl Finding for UnknownAttribute {
    const PAGE: Page = page!("LN104", "ln104_unknown_attribute.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("“{}” cannot be said of {}", self.written, self.kind));
        say.label(self.span, "not known here");
        if let Some(near) = &self.near {
            say.mend_with(format!("did you mean {near}?"), self.word, near);
        }
        if let Some(like) = self.like {
            say.mend(format!("write it as in: {like}"));
        }
        if !self.takes.is_empty() {
            say.note(format!("what can be said of it: {}", self.takes.join("; ")));
        }
    }
}
