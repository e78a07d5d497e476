//! LN312: a reading that proves something whatever it shows.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A proof that no outcome can upset.
pub(crate) struct ProvesWhatever {
    pub(crate) proves: Span,
    /// `supply is isolated`.
    pub(crate) said: String,
    pub(crate) act: Span,
    /// Several arms that go on, where others do not.
    pub(crate) arms: Vec<Span>,
}

impl Finding for ProvesWhatever {
    const PAGE: Page = page!("LN312", "ln312_proves_whatever.md");

    fn show(&self, say: &mut Report) {
        if !self.arms.is_empty() {
            say.title(format!("several answers would count as the proof of “{}”", self.said));
            for arm in &self.arms {
                say.label(*arm, "goes on as if it were proved");
            }
            say.label(self.proves, "to be proved");
            say.consequence(
                "one of these answers is the very one that denies it, and the job goes on",
            );
            say.mend("let only the answer that shows it go on by itself: the others stop, go back, refer to somebody, or do first what makes it so");
            return;
        }
        say.title(format!("this proves nothing of “{}”", self.said));
        say.label(self.proves, "no outcome of the reading tells yes from no");
        say.label(self.act, "read here");
        say.consequence("the job goes on as if it were proved, with any reading at all");
        say.mend("say what is accepted and what follows otherwise: { accept at most … / otherwise stop \"…\" }");
    }
}
