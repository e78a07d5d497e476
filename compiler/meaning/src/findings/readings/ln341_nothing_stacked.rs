//! LN341: pieces are spoken of where only one is chosen.

use locknut_finding::{Finding, Page, Report, Span, page};

/// `prefer fewest` or `each once` at a choice of one size.
pub(crate) struct NothingStacked {
    pub(crate) word: &'static str,
    pub(crate) span: Span,
    pub(crate) name: String,
}

impl Finding for NothingStacked {
    const PAGE: Page = page!("LN341", "ln341_nothing_stacked.md");

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "“{}” speaks of several pieces, and one {} is chosen",
            self.word, self.name
        ));
        say.label(self.span, "one size is taken here");
        say.consequence(
            "whoever wrote this thought of a stack, and the sheet lets the fitter take one piece",
        );
        say.mend(format!("write: choose up to 3 of {}; or take “{}” out", self.name, self.word));
    }
}
