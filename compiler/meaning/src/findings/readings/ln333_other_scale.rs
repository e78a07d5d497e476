//! LN333: a substitute whose figures are of another kind.

use locknut_finding::{Finding, Page, Report, Span, page};

/// `or using` with an instrument that shows something else.
pub(crate) struct OtherScale {
    pub(crate) name: String,
    pub(crate) span: Span,
    pub(crate) instrument: String,
    pub(crate) declared: Span,
    /// What it shows.
    pub(crate) is: String,
    /// What the instrument of the line shows.
    pub(crate) wanted: String,
}

impl Finding for OtherScale {
    const PAGE: Page = page!("LN333", "ln333_other_scale.md");

    fn show(&self, say: &mut Report) {
        let (is, wanted) = (&self.is, &self.wanted);
        say.title(format!(
            "the {} does not show {} on the scale of this line",
            self.instrument, self.name
        ));
        say.label(self.span, format!("shows {is}; the line is read in {wanted}"));
        say.label(self.declared, "declared here");
        say.consequence("no figure of the one can be compared with a figure of the other: any limit for it would be made up");
        say.mend(format!(
            "say that it is another reading, with its own limit from its own source: or measure NAME using … {{ accept … }}, answers low only (or high only, or low and high: what it tells of {})",
            self.name
        ));
    }
}
