//! LN304: a limit lies between two digits of the instrument.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// A limit that is finer than what the instrument shows.
pub(crate) struct BetweenDigits {
    pub(crate) end: String,
    pub(crate) below: String,
    pub(crate) above: String,
    pub(crate) span: Span,
    pub(crate) instrument: String,
    /// Its resolution as written.
    pub(crate) step: String,
    pub(crate) declared: Span,
}

impl Finding for BetweenDigits {
    const PAGE: Page = page!("LN304", "ln304_between_digits.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!("the {} never shows {}", self.instrument, self.end));
        say.label(self.span, format!("it shows {} or {}, nothing between", self.below, self.above));
        say.label(self.declared, format!("its smallest step is {}", self.step));
        say.consequence("the limit that is really kept is another than the one that is written");
        say.mend(format!(
            "write a limit on its digits, such as {} or {}, or name a finer instrument",
            self.below, self.above
        ));
    }
}
