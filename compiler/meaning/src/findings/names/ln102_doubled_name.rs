//! LN102: one name for two things.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A name that is declared a second time.
pub(crate) struct DoubledName {
    /// What it is declared as here: `instrument`, `line`.
    pub(crate) what: String,
    pub(crate) name: String,
    pub(crate) first: Span,
    pub(crate) again: Span,
}

impl Finding for DoubledName {
    const PAGE: Page = page!("LN102", "ln102_doubled_name.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} stands for two things", self.name));
        say.label(self.again, format!("declared again here, as {}", with_article(&self.what)));
        say.label(self.first, "first declared here");
        say.consequence(format!("whoever reads {} cannot know which of them is meant", self.name));
        say.mend("give one of them another name, or take it out");
    }
}

/// `an instrument`, `a tool`.
pub(crate) fn with_article(noun: &str) -> String {
    let vowel = noun.to_lowercase().starts_with(['a', 'e', 'i', 'o']) && !noun.starts_with("one");
    format!("{} {noun}", if vowel { "an" } else { "a" })
}
