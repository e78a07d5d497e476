//! LN113: a line asks for something that is not known where it stands.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A reading, series or serial number asked for where no job is under way.
pub(crate) struct CannotBeKnown {
    /// What is asked for: `a reading`, `the series`.
    pub(crate) what: &'static str,
    /// Where: `a rule of a model`.
    pub(crate) place: &'static str,
    pub(crate) span: Span,
    pub(crate) mend: &'static str,
}

impl Finding for CannotBeKnown {
    const PAGE: Page = page!("LN113", "ln113_cannot_be_known.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} cannot ask for {}", self.place, self.what));
        say.label(self.span, "not known here");
        say.mend(self.mend);
    }
}
