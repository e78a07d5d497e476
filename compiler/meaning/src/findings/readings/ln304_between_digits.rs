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
    /// Which of the two a limit may end at and still part its readings as lines are to be parted; none: not at either
    /// alone.
    pub(crate) fits: Vec<String>,
    /// Its figures in the unit of the instrument, where they stand on its digits.
    pub(crate) meant: Option<String>,
}

impl Finding for BetweenDigits {
    const PAGE: Page = page!("LN304", "ln304_between_digits.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!("the {} never shows {}", self.instrument, self.end));
        say.label(self.span, format!("it shows {} or {}, nothing between", self.below, self.above));
        say.label(self.declared, format!("its smallest step is {}", self.step));
        say.consequence("the limit that is really kept is another than the one that is written");
        if let Some(meant) = &self.meant {
            say.mend(format!("look the unit up again: {meant} stands on its digits"));
        }
        let instead = if self.fits.is_empty() {
            "let all limits of the line lie on its digits".to_owned()
        } else {
            format!("write a limit on its digits, such as {}", self.fits.join(" or "))
        };
        say.mend(format!("{instead}, or name a finer instrument"));
    }
}
