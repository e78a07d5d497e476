//! LN911: a phrase cannot be filled in.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A phrase that asks for a value which the line does not have, or a file that cannot be read.
pub(crate) struct BadPhrase {
    pub(crate) key: String,
    pub(crate) language: String,
    pub(crate) why: String,
    /// Its line in the library's phrases; none where it is a phrase of the standard library.
    pub(crate) place: Option<Span>,
}

impl Finding for BadPhrase {
    const PAGE: Page = page!("LN911", "ln911_bad_phrase.md");

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "the words in “{}” for {} cannot be filled in: {}",
            self.language, self.key, self.why
        ));
        if let Some(place) = self.place {
            say.label(place, "this cannot be filled in");
        }
        say.consequence("the sheet would have a line with a hole in it");
        say.mend(format!("mend the line in phrases/{}.ftl", self.language));
    }
}
