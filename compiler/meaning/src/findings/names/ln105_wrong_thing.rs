//! LN105: something is said of a thing that can only be said of another sort of thing.

use super::with_article;
use locknut_finding::{Finding, Page, Report, Span, page};

/// A relation to a thing of the wrong sort: bolts that fasten a fluid.
pub(crate) struct WrongThing {
    /// What is said: `fastens`, `behind`.
    pub(crate) relation: String,
    pub(crate) name: String,
    pub(crate) span: Span,
    /// What may stand there: `part`.
    pub(crate) wanted: String,
    /// What the name is.
    pub(crate) found: String,
    pub(crate) declared: Span,
}

impl Finding for WrongThing {
    const PAGE: Page = page!("LN105", "ln105_wrong_thing.md");

    fn show(&self, say: &mut Report) {
        let found = with_article(&self.found);
        say.title(format!("“{} {}” cannot be: {} is {found}", self.relation, self.name, self.name));
        say.label(self.span, format!("“{}” wants {}", self.relation, with_article(&self.wanted)));
        say.label(self.declared, format!("declared as {found}"));
        say.mend(format!("name {}", with_article(&self.wanted)));
    }
}
