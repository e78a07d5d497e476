//! LN314: a choice of which it cannot be shown that it covers.

use crate::findings::names::with_article;
use locknut_finding::{Finding, Page, Report, Span, page};

/// A result that is no plain sum of readings.
pub(crate) struct ChoiceNotShown {
    pub(crate) name: String,
    pub(crate) span: Span,
    /// Where its readings are taken, and its sizes declared.
    pub(crate) rests_on: Vec<Span>,
}

impl Finding for ChoiceNotShown {
    const PAGE: Page = page!("LN314", "ln314_choice_not_shown.md");

    fn show(&self, say: &mut Report) {
        self.rests_on.iter().for_each(|place| say.rests_on(*place));
        say.title(format!(
            "it cannot be shown that {} fits every reading",
            with_article(&self.name)
        ));
        say.label(self.span, "the result is no plain sum of readings");
        say.consequence("a reading for which nothing fits would be found out in the workshop");
        say.mend("work out with “check” what is more than a sum, in readings that are added, subtracted or scaled");
    }
}
