//! LN437: a second act where a thing is wanted.

use locknut_finding::{Finding, Page, Report, Span, page};

/// The verb of another act stands among the things of an act.
pub(crate) struct TwoActs {
    pub(crate) verb: String,
    pub(crate) span: Span,
    /// What parts the two, and what stands there in its place.
    pub(crate) between: Span,
    pub(crate) instead: String,
    /// A comma at the end of a line leads on into the next.
    pub(crate) comma: bool,
}

impl Finding for TwoActs {
    const PAGE: Page = page!("LN437", "ln437_two_acts.md");

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "“{}” begins another act, and the one ahead of it is not over",
            self.verb
        ));
        say.label(self.span, "an act of its own");
        say.consequence("of two acts in one line one is not done");
        let mend = if self.comma {
            "take the comma out: an act is over where its line ends"
        } else {
            "each act stands on a line of its own"
        };
        say.mend_with(mend, self.between, &self.instead);
    }
}
