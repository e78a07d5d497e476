//! LN343: more sums can be stacked than are looked up.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A stack that comes to more sums than are compared.
pub(crate) struct TooManySums {
    pub(crate) name: String,
    pub(crate) span: Span,
    pub(crate) pieces: usize,
    pub(crate) most: usize,
}

impl Finding for TooManySums {
    const PAGE: Page = page!("LN343", "ln343_too_many_sums.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("up to {} of these come to more than {} sums", self.pieces, self.most));
        say.label(self.span, format!("{} could be stacked in too many ways", self.name));
        say.consequence("the look-up table would run over many pages, and nobody finds the row");
        say.mend("let fewer pieces be stacked, leave sizes out, or choose a coarse and a fine stack one after the other");
    }
}
