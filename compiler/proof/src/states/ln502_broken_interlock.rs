//! LN502: an interlock of the model is broken on some path.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// An interlock of the model is broken on some path.
pub(crate) struct BrokenInterlock {
    pub(crate) act: Option<Span>,
    pub(crate) interlock: Span,
    pub(crate) written: String,
    pub(crate) because: String,
    pub(crate) stands: String,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for BrokenInterlock {
    const PAGE: Page = page!("LN502", "ln502_broken_interlock.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("what must never be comes to be here: {}", self.written));
        match self.act {
            Some(act) => {
                say.label(act, format!("after this: {}", self.stands));
                say.label(self.interlock, "this must never be");
            }
            None => say
                .label(self.interlock, format!("it is so before the first step: {}", self.stands)),
        }
        say.path(&self.path);
        say.consequence(&self.because);
        say.fallback("bring the machine to a safe state before this line, or move the line");
    }
}
