//! LN223: a standard uncertainty that hardly any calibration finds.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// Far less than the greatest error.
pub(crate) struct DoubtedUncertainty {
    /// `standard uncertainty 0.0002 mm`
    pub(crate) written: String,
    pub(crate) span: Span,
    /// The greatest error, as it is written.
    pub(crate) error: String,
    /// How many times the one lies in the other.
    pub(crate) times: String,
}

impl Finding for DoubtedUncertainty {
    const PAGE: Page = page!("LN223", "ln223_doubted_uncertainty.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        let Self { written, error, times, .. } = self;
        say.title(format!("“{written}” is {times} times less than the greatest error"));
        say.label(
            self.span,
            format!("the greatest error is {error}; mostly it is two to ten times as much"),
        );
        say.consequence(
            "if a digit slipped, the guard bands are far too narrow, and bad readings are accepted",
        );
        say.mend("look the figure up again in the calibration certificate: it is the standard uncertainty, in the same unit");
        say.mend("or, where the instrument is read with its corrections, write as its error what is left after them");
    }
}
