//! LN355: a template is larger than the paper.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A template that does not fit on a sheet at true scale.
pub(crate) struct OffPaper {
    /// As said.
    pub(crate) template: String,
    pub(crate) place: Span,
    /// `A4`, `Letter`.
    pub(crate) paper: &'static str,
    /// What fits: wide and high in millimetres, the sheet upright and across.
    pub(crate) greatest: [[u32; 2]; 2],
}

impl Finding for OffPaper {
    const PAGE: Page = page!("LN355", "ln355_off_paper.md");

    fn show(&self, say: &mut Report) {
        let (template, paper) = (&self.template, self.paper);
        let [[narrow, high], [wide, low]] = self.greatest;
        say.title(format!("the {template} is larger than {paper} paper"));
        say.label(self.place, "at true scale it goes beyond the sheet");
        say.consequence("printed smaller, it would show a limit that is none");
        say.note(format!(
            "{paper} holds {narrow} mm by {high} mm or {wide} mm by {low} mm, either way round: the lines that prove the scale are on the same sheet"
        ));
        say.mend("make it smaller, or let it show only the end that is read");
    }
}
