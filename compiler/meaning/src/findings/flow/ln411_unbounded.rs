//! LN411: a repeat that does not say how often.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A `repeat` without a bound that a person would keep.
pub(crate) struct Unbounded {
    pub(crate) span: Span,
    /// Where a number stands that is no bound.
    pub(crate) given: Option<Span>,
    pub(crate) most: u32,
}

impl Finding for Unbounded {
    const PAGE: Page = page!("LN411", "ln411_unbounded.md");

    fn show(&self, say: &mut Report) {
        say.title("nothing says when to stop going round");
        match self.given {
            Some(given) => {
                say.label(given, format!("a bound is a whole number from 1 to {}", self.most));
            }
            None => say.label(self.span, "no bound here"),
        }
        say.consequence(
            "with a machine that cannot be set right, the technician repeats this all day",
        );
        say.mend("add: up to 2 times, failing that refer to \"Technical support\"");
    }
}
