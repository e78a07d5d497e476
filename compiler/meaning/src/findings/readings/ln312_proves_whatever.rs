//! LN312: a reading that proves something whatever it shows.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A proof that no outcome can upset.
pub(crate) struct ProvesWhatever {
    pub(crate) proves: Span,
    /// `supply is isolated`.
    pub(crate) said: String,
    pub(crate) act: Span,
}

impl Finding for ProvesWhatever {
    const PAGE: Page = page!("LN312", "ln312_proves_whatever.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("this proves nothing of “{}”", self.said));
        say.label(self.proves, "no outcome of the reading tells yes from no");
        say.label(self.act, "read here");
        say.consequence("the job goes on as if it were proved, with any reading at all");
        say.mend("say what is accepted and what follows otherwise: { accept at most … / otherwise stop \"…\" }");
    }
}
