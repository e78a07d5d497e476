//! LN402: a repeat that reads nothing again.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// A repeat that reads nothing again.
pub(crate) struct UselessRepeat {
    pub(crate) line: Span,
    pub(crate) step: Span,
    pub(crate) number: String,
}

impl Finding for UselessRepeat {
    const PAGE: Page = page!("LN402", "ln402_useless_repeat.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "going back to step {} changes nothing: nothing is read again on the way",
            self.number
        ));
        say.label(self.line, "goes back here");
        say.label(self.step, "to this step");
        say.consequence(
            "the fitter goes round until the rounds are used up, with the same answer each time",
        );
        say.mend("go back to a step before the reading that decides");
    }
}
