//! LN914: a language in which nothing can be said.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A language without any phrases.
pub(crate) struct UnknownLanguage {
    pub(crate) language: String,
    /// Those that there are.
    pub(crate) known: Vec<String>,
    /// Where the library asks for it; none: whoever prints does.
    pub(crate) place: Option<Span>,
}

impl Finding for UnknownLanguage {
    const PAGE: Page = page!("LN914", "ln914_unknown_language.md");

    fn show(&self, say: &mut Report) {
        let Self { language, known, .. } = self;
        say.title(format!("there are no phrases in “{language}”"));
        if let Some(place) = self.place {
            say.label(place, "sheets are wanted in this language");
        }
        say.consequence("every line of the sheet would be empty, and nobody would know what to do");
        say.mend(format!(
            "ask for one of {}, or write phrases/{language}.ftl in the library: every key of stdlib/phrases/en.ftl",
            known.join(", ")
        ));
    }
}
