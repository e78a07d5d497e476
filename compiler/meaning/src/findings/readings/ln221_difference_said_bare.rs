//! LN221: a limit of a difference, whose figure could be a temperature as well.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};
use locknut_quantity::Units;

/// A figure that is taken as a difference, and looks like a point on a scale.
pub(crate) struct DifferenceSaidBare {
    /// As it is written: `86 °F`.
    pub(crate) written: String,
    pub(crate) span: Span,
    /// It is taken off something, and no limit.
    pub(crate) taken_off: bool,
}

impl Finding for DifferenceSaidBare {
    const PAGE: Page = page!("LN221", "ln221_difference_said_bare.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        let written = &self.written;
        say.title(format!("{written} is taken as a difference, and reads like a temperature"));
        say.label(
            self.span,
            if self.taken_off {
                "taken off, this is a rise or a fall, and what is left a temperature"
            } else {
                "what is checked is a difference, so this is a rise or a fall"
            },
        );
        say.consequence(
            "where the temperature itself was meant, a machine that is far too hot passes, or a cold one is taken apart",
        );
        let difference = format!("{written} {}", Units::DIFFERENCE);
        say.mend_with(
            format!("if a difference is meant, write {difference}"),
            self.span,
            &difference,
        );
        say.mend(if self.taken_off {
            "if a temperature is meant, give it a name, value NAME = …, and take that off: what is left is a difference then"
        } else {
            "if a temperature is meant, judge the reading itself, and no difference of two"
        });
    }
}
