//! LN319: a reading that is no number stands in a sum or a limit.

use locknut_finding::{Finding, Page, Report, Span, page};

/// An answer, a date or a text where a number is wanted.
pub(crate) struct WordsNotNumber {
    pub(crate) name: String,
    pub(crate) span: Span,
    pub(crate) read: Span,
}

impl Finding for WordsNotNumber {
    const PAGE: Page = page!("LN319", "ln319_words_not_number.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} is no number", self.name));
        say.label(self.span, "reckoned with here");
        say.label(self.read, "read here, as words");
        say.mend(format!("ask for it in words: when {} is …", self.name));
    }
}
