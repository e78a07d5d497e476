//! LN910: a phrase is missing in a language.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A key that no phrase table of the language has.
pub(crate) struct MissingPhrase {
    pub(crate) key: String,
    pub(crate) language: String,
    /// The line that needs it; the default where a fixed label is missing.
    pub(crate) place: Span,
}

impl Finding for MissingPhrase {
    const PAGE: Page = page!("LN910", "ln910_missing_phrase.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("there are no words in “{}” for {}", self.language, self.key));
        if self.place != Span::default() {
            say.label(self.place, "this line cannot be said");
        }
        say.consequence(
            "the sheet would have an empty line, and nobody would know what to do there",
        );
        say.mend(format!(
            "add a line `{} = …` to phrases/{}.ftl in the library",
            self.key, self.language
        ));
    }
}
