//! LN655: fasteners that cannot stand in the pattern that they are declared in.

use locknut_finding::{Finding, Page, Report, Span, page};

/// Fasteners that cannot stand so.
pub(crate) struct PatternDoesNotFit {
    pub(crate) thing: String,
    pub(crate) written: String,
    pub(crate) span: Span,
    pub(crate) why: String,
    /// It is for heads that nobody has declared.
    pub(crate) heads: bool,
}

impl Finding for PatternDoesNotFit {
    const PAGE: Page = page!("LN655", "ln655_pattern_does_not_fit.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} cannot stand {}", self.thing, self.written));
        say.label(self.span, self.why.clone());
        say.consequence("the drawing of the order would show another joint than the fitter sees");
        say.mend("count them at the machine, and write the pattern that they stand in");
        if self.heads {
            say.mend("or, where they have other heads, say with them how wide their face and its hole are: bearing …, hole …");
        }
    }
}
