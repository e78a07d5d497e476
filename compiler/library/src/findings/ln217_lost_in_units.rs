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
    /// The same limit with so many digits more that it is not lost; none: a digit or two are not enough.
    pub(crate) finer: Option<String>,
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
        match &self.finer {
            Some(finer) => say.mend(format!(
                "write its figures with more digits, if they are meant so: {finer} for {limit}"
            )),
            None => say.mend("have the sheet printed in the units that the figure is written in"),
        }
    }
}
