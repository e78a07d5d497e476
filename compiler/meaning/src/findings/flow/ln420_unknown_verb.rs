//! LN420: a verb that nothing declares.

use crate::findings::names::listed;
use locknut_finding::{Finding, Page, Report, Span, page};

/// A line that begins with a word that is no act.
pub(crate) struct UnknownVerb {
    pub(crate) verb: String,
    pub(crate) span: Span,
    pub(crate) near: Option<String>,
    /// The thing that it is said of, and the acts that this thing takes.
    pub(crate) takes: Option<(String, Vec<String>)>,
    /// How such a line is written, where that is known.
    pub(crate) instead: Option<String>,
}

impl Finding for UnknownVerb {
    const PAGE: Page = page!("LN420", "ln420_unknown_verb.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("nobody knows how to {}", self.verb));
        say.label(self.span, "no act of this name is known");
        if let Some(near) = &self.near {
            say.mend_with(format!("did you mean {near}?"), self.span, near);
        }
        if let Some(instead) = &self.instead {
            say.mend(instead.clone());
            return;
        }
        if let Some((thing, acts)) = &self.takes {
            say.note(format!("{thing} takes: {}", listed(acts, "and")));
        }
        say.mend("declare the act with its element: element NAME { act VERB : … }");
    }
}
