//! LN208: a number without its unit.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A bare number where a quantity is wanted.
pub(crate) struct NoUnit {
    pub(crate) number: String,
    pub(crate) span: Span,
    /// What is wanted: `a length`.
    pub(crate) wanted: String,
    /// A unit that would fit.
    pub(crate) unit: Option<String>,
    /// The range that seems to be meant, as ranges are written.
    pub(crate) range: Option<String>,
}

impl Finding for NoUnit {
    const PAGE: Page = page!("LN208", "ln208_no_unit.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} has no unit, and {} is wanted", self.number, self.wanted));
        say.label(self.span, "in which unit?");
        if let Some(range) = &self.range {
            say.mend(format!("a range is written with two points: {range}"));
        } else if let Some(unit) = &self.unit {
            say.mend(format!(
                "write the unit that is meant behind it, as in “{} {unit}”",
                self.number
            ));
        }
    }
}
