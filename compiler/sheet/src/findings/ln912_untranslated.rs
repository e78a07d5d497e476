//! LN912: texts of the authors that are printed untranslated.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// So many texts have no translation in a language.
pub(crate) struct Untranslated {
    pub(crate) language: String,
    pub(crate) own: String,
    pub(crate) count: usize,
    /// The first of them, and where it stands.
    pub(crate) first: String,
    pub(crate) place: Span,
}

impl Finding for Untranslated {
    const PAGE: Page = page!("LN912", "ln912_untranslated.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "{} {} printed in “{}” on the “{}” sheet",
            self.count,
            if self.count == 1 { "text is" } else { "texts are" },
            self.own,
            self.language
        ));
        if self.place != Span::default() {
            say.label(self.place, "the first of them");
        }
        say.consequence("a sheet that is half in one language and half in another is read wrong");
        say.mend(format!(
            "add a line `\"{}\": \"…\"` to translations/{}.yaml in the library",
            self.first, self.language
        ));
    }
}
