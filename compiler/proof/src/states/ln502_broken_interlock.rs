//! LN502: an interlock of the model is broken on some path.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// The length of the word at which a block of people side by side is shown.
const TOGETHER: u32 = 8;

/// An interlock of the model is broken on some path.
pub(crate) struct BrokenInterlock {
    pub(crate) act: Option<Span>,
    pub(crate) interlock: Span,
    pub(crate) written: String,
    pub(crate) because: String,
    pub(crate) stands: String,
    /// The block in which two people come to it together.
    pub(crate) beside: Option<Span>,
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
        if let Some(block) = self.beside {
            let word = Span { end: block.start.saturating_add(TOGETHER), ..block };
            say.label(word, "here each may be ahead of the other");
        }
        say.path(&self.path);
        say.consequence(&self.because);
        if self.beside.is_some() {
            say.fallback("take one of the two out of the `together` block: put it ahead of the block, or behind it");
            return;
        }
        say.fallback("bring the machine to a safe state before this line, or move the line");
    }
}
