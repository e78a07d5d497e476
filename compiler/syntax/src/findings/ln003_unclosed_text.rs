//! LN003: a text that is not closed on its line.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A text that is not closed on its line.
pub(crate) struct UnclosedText {
    pub(crate) place: Span,
}

impl Finding for UnclosedText {
    const PAGE: Page = page!("LN003", "ln003_unclosed_text.md");

    fn show(&self, say: &mut Report) {
        say.title("a text is begun here and not closed on its line");
        say.label(self.place, "the closing quote is missing");
        say.consequence("what follows would be printed as words, and not be done");
        say.mend("close it with a double quote; a quote inside a text is written \\\"");
    }
}
