//! LN315: a choice for which no size ever fits, or where it makes no difference.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A choice that is none.
pub(crate) struct NothingFits {
    pub(crate) name: String,
    pub(crate) result: String,
    pub(crate) range: String,
    pub(crate) span: Span,
    /// Where its readings are taken, and its sizes declared.
    pub(crate) rests_on: Vec<Span>,
    /// Whether the result depends on what is chosen.
    pub(crate) depends: bool,
}

impl Finding for NothingFits {
    const PAGE: Page = page!("LN315", "ln315_nothing_fits.md");

    fn show(&self, say: &mut Report) {
        if self.depends {
            self.rests_on.iter().for_each(|place| say.rests_on(*place));
            say.title(format!("no {} ever fits", self.name));
            say.label(
                self.span,
                format!("no size and no reading bring {} to {}", self.result, self.range),
            );
            say.mend(format!("look at the sizes, and at how {} is worked out", self.result));
        } else {
            say.title(format!("it makes no difference which {} is chosen", self.name));
            say.label(self.span, format!("{} does not depend on it", self.result));
            say.mend(format!("let {} be worked out from {} too", self.result, self.name));
        }
        say.consequence("the line looks like a choice and decides nothing");
    }
}
