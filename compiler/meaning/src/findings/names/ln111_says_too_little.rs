//! LN111: a line leaves out what it cannot do without.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A declaration that lacks something.
pub(crate) struct SaysTooLittle {
    /// What it is: `this rule`, `the instrument steel-rule`.
    pub(crate) what: String,
    /// What it lacks: `no reason`, `no range`.
    pub(crate) lacks: &'static str,
    pub(crate) span: Span,
    pub(crate) consequence: &'static str,
    /// A line or words that one could paste.
    pub(crate) mend: &'static str,
}

impl Finding for SaysTooLittle {
    const PAGE: Page = page!("LN111", "ln111_says_too_little.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} says {}", self.what, self.lacks));
        say.label(self.span, format!("{} here", self.lacks));
        say.consequence(self.consequence);
        say.mend(self.mend);
    }
}
