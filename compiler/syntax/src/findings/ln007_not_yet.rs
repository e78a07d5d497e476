//! LN007: a part of the language that is not there yet.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A part of the language that is not there yet.
pub(crate) struct NotYet {
    pub(crate) place: Span,
    pub(crate) word: &'static str,
    pub(crate) what: &'static str,
}

impl Finding for NotYet {
    const PAGE: Page = page!("LN007", "ln007_not_yet.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("this version of the language has no {} yet ({})", self.word, self.what));
        say.label(self.place, "not yet");
        say.consequence("what is not understood is not proved, and not printed");
        say.mend("say it with what there is: steps, acts, notes; grammar/reference.md lists it");
    }
}
