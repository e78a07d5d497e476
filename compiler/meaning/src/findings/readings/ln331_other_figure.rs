//! LN331: an instrument that answers one limit is to decide another.

use locknut_finding::{Finding, Page, Report, Span, page};

/// The figure of a card differs from the limit of the line.
pub(crate) struct OtherFigure {
    pub(crate) instrument: String,
    pub(crate) declared: Span,
    pub(crate) answers: String,
    pub(crate) limit: String,
    pub(crate) span: Span,
    /// It answers one side of a limit that has two.
    pub(crate) half: bool,
}

impl Finding for OtherFigure {
    const PAGE: Page = page!("LN331", "ln331_other_figure.md");

    fn show(&self, say: &mut Report) {
        let Self { instrument, answers, limit, .. } = self;
        if self.half {
            say.title(format!(
                "the {instrument} tells one side of this limit, and is to decide both"
            ));
        } else {
            say.title(format!("the {instrument} is made for another limit"));
        }
        say.label(self.span, format!("{limit} is to be decided"));
        say.label(self.declared, format!("it answers {answers}, and nothing else"));
        say.consequence(
            "it says yes where the limit says no, and nobody sees a figure that would tell",
        );
        if self.half {
            say.mend(format!("use an instrument that shows figures, and let this one stand in for it: or using … accept {answers}, answers low only (or high only)"));
        } else {
            say.mend("give both the same limit by its name: limit usable-length = … , then “answers only usable-length” and “accept usable-length”");
        }
    }
}
