//! LN421: a clause that the act does not take.

use crate::findings::names::listed;
use locknut_finding::{Finding, Page, Report, Span, page};

/// A clause that an act does not take, or has already.
pub(crate) struct ClauseDoesNotFit {
    /// The verb, or `step`.
    pub(crate) act: String,
    pub(crate) word: String,
    pub(crate) span: Span,
    /// Where the clause stands the first time.
    pub(crate) first: Option<Span>,
    /// How such a line is written.
    pub(crate) form: String,
    pub(crate) taken: Vec<String>,
}

impl Finding for ClauseDoesNotFit {
    const PAGE: Page = page!("LN421", "ln421_clause_does_not_fit.md");

    fn show(&self, say: &mut Report) {
        if let Some(first) = self.first {
            say.title(format!("“{}” is said twice of this “{}”", self.word, self.act));
            say.label(self.span, "said again here");
            say.label(first, "said here already");
            say.mend("say it once");
            return;
        }
        say.title(format!("“{}” takes no “{}”", self.act, self.word));
        say.label(self.span, "this clause does not fit here");
        say.note(format!("it takes: {}", listed(&self.taken, "and")));
        say.mend(format!("write: {}", self.form));
    }
}
