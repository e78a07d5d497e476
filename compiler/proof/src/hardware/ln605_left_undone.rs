//! LN605: an element is not back to normal at done: loose, out, drained, parted.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// An element is not back to normal at done: loose, out, drained, parted.
pub(crate) struct LeftUndone {
    pub(crate) written_at: Span,
    pub(crate) thing: String,
    /// `is`, or `are`.
    pub(crate) verb: &'static str,
    pub(crate) stands: String,
    pub(crate) normal: String,
    pub(crate) name: String,
    pub(crate) value_name: String,
    pub(crate) path: Vec<PathPoint>,
    /// Whether it was changed in a `when`: on other ways nothing has to be brought back.
    pub(crate) when: bool,
}

impl Finding for LeftUndone {
    const PAGE: Page = page!("LN605", "ln605_left_undone.md");

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "the job is done and the {} {} left {}",
            self.thing, self.verb, self.stands
        ));
        say.label(self.written_at, format!("{} since here", self.stands));
        say.path(&self.path);
        say.consequence(
            "what is loosened and not tightened again works loose and falls off in service",
        );
        if self.when {
            say.fallback(format!(
                "bring it back to {} at the end of the same “when”: where that does not hold, it was never changed",
                self.normal
            ));
        } else {
            say.fallback(format!("bring it back to {} before the end", self.normal));
        }
        say.mend(format!(
            "or, where it is meant, write `leaves {} is {} because \"…\"` at the head of the procedure",
            self.name, self.value_name
        ));
    }
}
