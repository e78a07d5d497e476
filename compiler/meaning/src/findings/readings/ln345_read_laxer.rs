//! LN345: a substitute is taken as read where its line is guarded.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// A substitute that accepts up to its limit, beside a line that keeps off it by the error.
pub(crate) struct ReadLaxer {
    pub(crate) name: String,
    pub(crate) instrument: String,
    /// Where the substitute says so.
    pub(crate) said: Span,
    /// Where the line's limit is guarded, or the limit where the library has it.
    pub(crate) guarded: Span,
}

impl Finding for ReadLaxer {
    const PAGE: Page = page!("LN345", "ln345_read_laxer.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        let (name, instrument) = (&self.name, &self.instrument);
        say.title(format!("with the {instrument} {name} passes where it may be out of its limit"));
        say.label(self.said, "here the reading is taken for the true value");
        say.label(self.guarded, "the line itself keeps off its limit by the error of its reading");
        say.consequence(
            "whoever has not the better instrument has the easier limit, and may pass what the line would not",
        );
        say.mend("leave “as read” out, or say why it will do: despite LN345 because \"…\"");
    }
}
