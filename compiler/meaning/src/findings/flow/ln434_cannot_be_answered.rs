//! LN434: a finding that no reason answers.

use locknut_finding::{Finding, Page, Report, Span, page};

/// `despite` with a code that cannot be answered.
pub(crate) struct CannotBeAnswered {
    pub(crate) code: String,
    pub(crate) span: Span,
}

impl Finding for CannotBeAnswered {
    const PAGE: Page = page!("LN434", "ln434_cannot_be_answered.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} cannot be answered with a reason", self.code));
        say.label(
            self.span,
            "only strength, capability and wording can be weighed against a reason",
        );
        say.consequence("a machine is no safer for the reason why it is not");
        say.mend("mend what it speaks of, and take this “despite” out");
    }
}
