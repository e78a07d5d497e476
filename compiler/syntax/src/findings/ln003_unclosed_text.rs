//! LN003: a text that is not closed on its line.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A text that is not closed on its line.
pub(crate) struct UnclosedText {
    pub(crate) place: Span,
    pub(crate) lacks: Lacks,
}

/// Which of its quotes is missing.
pub(crate) enum Lacks {
    Closing,
    /// And where its first word stands, if that can be told.
    Opening(Option<Span>),
}

impl Finding for UnclosedText {
    const PAGE: Page = page!("LN003", "ln003_unclosed_text.md");

    fn show(&self, say: &mut Report) {
        if let Lacks::Opening(first_word) = &self.lacks {
            say.title("a text is closed here and begun nowhere on its line");
            say.label(self.place, "what does this quote close?");
            say.consequence("a text that nobody can tell the beginning of is not printed");
            let mend = "write a double quote ahead of its first word";
            match first_word {
                Some(at) => say.mend_with(mend, *at, "\""),
                None => say.mend(mend),
            }
            return;
        }
        say.title("a text is begun here and not closed on its line");
        say.label(self.place, "the closing quote is missing");
        say.consequence("what follows would be printed as words, and not be done");
        say.mend("close it with a double quote; a quote inside a text is written \\\"");
    }
}
