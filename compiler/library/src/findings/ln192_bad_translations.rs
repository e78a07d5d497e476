//! LN192: a file of translations is not a list of texts.

use locknut_finding::{FileId, Finding, Page, Report, Span, page};

/// What is wrong in `translations/<language>.yaml`.
pub(crate) struct BadTranslations {
    place: Span,
    why: String,
}

impl BadTranslations {
    pub(crate) fn new(file: FileId, text: &str, error: &serde_yaml::Error) -> Self {
        let at = error.location().map_or(0, |place| place.index());
        Self { place: super::line_at(file, text, at), why: error.to_string() }
    }
}

impl Finding for BadTranslations {
    const PAGE: Page = page!("LN192", "ln192_bad_translations.md");

    fn show(&self, say: &mut Report) {
        say.title("the translations in this file cannot be used");
        say.label(self.place, &self.why);
        say.consequence("the authors' texts would be printed untranslated in this language");
        say.mend("write one line a text: \"Refit the cover.\": \"Deckel wieder anbauen.\"");
    }
}
