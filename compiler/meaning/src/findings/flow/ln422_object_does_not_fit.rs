//! LN422: an act that is not told what it is done to, or is told something else.

use locknut_finding::{Finding, Page, Report, Span, page};

/// What follows the verb is not what the act is about.
pub(crate) struct ObjectDoesNotFit {
    pub(crate) verb: String,
    /// How such a line is written.
    pub(crate) form: String,
    pub(crate) span: Span,
    /// Nothing stands there at all.
    pub(crate) missing: bool,
}

impl Finding for ObjectDoesNotFit {
    const PAGE: Page = page!("LN422", "ln422_object_does_not_fit.md");

    fn show(&self, say: &mut Report) {
        if self.missing {
            say.title(format!("“{}” does not say what", self.verb));
            say.label(self.span, "nothing follows this word");
        } else {
            say.title(format!("“{}” cannot be said of this", self.verb));
            say.label(self.span, "this does not belong here");
        }
        say.mend(format!("write: {}", self.form));
    }
}
