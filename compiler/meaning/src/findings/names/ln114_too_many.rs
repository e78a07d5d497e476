//! LN114: more of something than can be kept apart.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A count over its stated limit.
pub(crate) struct TooMany {
    /// `values of one state`, `things of one model`.
    pub(crate) what: &'static str,
    pub(crate) most: usize,
    /// The first one too many.
    pub(crate) span: Span,
}

impl Finding for TooMany {
    const PAGE: Page = page!("LN114", "ln114_too_many.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("more than {} {}", self.most, self.what));
        say.label(self.span, "this one and all after it are passed over");
        say.mend("divide it into several");
    }
}
