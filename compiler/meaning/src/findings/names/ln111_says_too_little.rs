//! LN111: a line leaves out what it cannot do without.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A declaration that lacks something.
pub(crate) struct SaysTooLittle<'m> {
    /// What it is: `this rule`, `the instrument steel-rule`.
    pub(crate) what: String,
    /// What it lacks: `no range`, `not why it is there`.
    pub(crate) lacks: &'static str,
    pub(crate) span: Span,
    pub(crate) consequence: &'static str,
    /// A line or words that one could paste.
    pub(crate) mend: &'m str,
}

impl SaysTooLittle<'_> {
    /// A `never` without `because`, of a model or of an element.
    pub(crate) fn rule_without_reason(span: Span) -> Self {
        Self {
            what: "this rule".to_owned(),
            lacks: "not why it is there",
            span,
            consequence: "whoever meets it cannot tell why, and the next author takes it out",
            mend: "add “because \"…\"” with what would happen in the workshop",
        }
    }
}

impl Finding for SaysTooLittle<'_> {
    const PAGE: Page = page!("LN111", "ln111_says_too_little.md");

    fn show(&self, say: &mut Report) {
        let (title, label) = match self.lacks.strip_prefix("not ") {
            Some(lacks) => {
                (format!("{} does not say {lacks}", self.what), format!("does not say {lacks}"))
            }
            None => (format!("{} has {}", self.what, self.lacks), format!("{} here", self.lacks)),
        };
        say.title(title);
        say.label(self.span, label);
        say.consequence(self.consequence);
        say.mend(self.mend);
    }
}
