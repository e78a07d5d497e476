//! LN327: a limit is to be guarded against an error that nobody has stated.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A guarded limit on a value whose error is not known.
pub(crate) struct Unguardable {
    pub(crate) name: String,
    /// Where the rule is written, or the limit where the library has it.
    pub(crate) said: Span,
    pub(crate) limit: Span,
    /// What shows it, and where that is declared; none: it is worked out.
    pub(crate) instrument: Option<(String, Span)>,
}

impl Finding for Unguardable {
    const PAGE: Page = page!("LN327", "ln327_unguardable.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("nobody knows how far {} may be from the true value", self.name));
        if self.said == self.limit {
            say.label(
                self.limit,
                "this library guards its limits against the error of the reading",
            );
        } else {
            say.label(self.said, "this guards the limit against the error of the reading");
        }
        if let Some((instrument, declared)) = &self.instrument {
            say.label(*declared, "no error is stated here that a guard band could be made of");
            say.mend(format!("state the greatest error of the {instrument}: error 0.02 mm"));
        } else {
            say.note("of a product or a quotient of readings, and where some instrument states no error, it is not known");
            say.mend("state the greatest error of every instrument that it rests on, guard those readings, or write “as read”");
        }
        say.consequence("the guard band would be a guess, and it is there to end guessing");
    }
}
