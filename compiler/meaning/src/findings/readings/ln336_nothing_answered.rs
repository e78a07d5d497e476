//! LN336: a substitute of another quantity that does not say what it tells.

use locknut_finding::{Finding, Page, Report, Span, page};
use locknut_graph::Side;

/// `or measure OTHER` without `answers`.
pub(crate) struct NothingAnswered {
    pub(crate) name: String,
    pub(crate) other: String,
    pub(crate) substitute: Span,
    pub(crate) line: Span,
    /// The sides of the line's limit.
    pub(crate) asked: Vec<Side>,
}

impl Finding for NothingAnswered {
    const PAGE: Page = page!("LN336", "ln336_nothing_answered.md");

    fn show(&self, say: &mut Report) {
        let (name, other) = (&self.name, &self.other);
        say.title(format!("nothing says what {other} tells of {name}"));
        say.label(self.substitute, "another quantity: no figure of it can be compared");
        say.label(self.line, "what is to be decided");
        say.consequence(format!(
            "the fitter reads {other}, and nobody knows which faults of {name} that would have shown"
        ));
        let mend = match self.asked.as_slice() {
            [Side::Low] => "add behind its block: , answers low only",
            [Side::High] => "add behind its block: , answers high only",
            _ => {
                "add behind its block “, answers low only”, “, answers high only” or “, answers low and high”: the sides that it surely tells"
            }
        };
        say.mend(mend);
    }
}
