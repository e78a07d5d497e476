//! LN217: a tolerance loses more than a tenth of itself in other units.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// A limit that is drawn in by much where it is printed in other units.
pub(crate) struct LostInUnits {
    /// As written.
    pub(crate) limit: String,
    pub(crate) span: Span,
    /// As it is printed there.
    pub(crate) printed: String,
    pub(crate) unit: String,
    /// Which part of its width is lost, in percent.
    pub(crate) lost: String,
}

impl Finding for LostInUnits {
    const PAGE: Page = page!("LN217", "ln217_lost_in_units.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        let (limit, lost, unit) = (&self.limit, &self.lost, &self.unit);
        say.title(format!("{limit} loses {lost} % of its width in {unit}"));
        say.label(self.span, format!("printed there as {}", self.printed));
        say.consequence(
            "whoever works by that sheet refuses what is good, or cannot set the tool so finely",
        );
        say.note(
            "a limit is rounded inward in other units, to digits that its own digits can bear",
        );
        say.mend("write its figures with one digit more, if they are meant so: 9.0 ± 1.0 N·m for 9 ± 1 N·m");
    }
}
