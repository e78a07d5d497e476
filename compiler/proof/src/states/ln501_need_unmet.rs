//! LN501: an act needs something that is not so when it is reached.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// An act needs something that is not so when it is reached.
pub(crate) struct NeedUnmet {
    pub(crate) act: Span,
    pub(crate) need: Span,
    pub(crate) wanted: String,
    pub(crate) stands: String,
    pub(crate) more: usize,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for NeedUnmet {
    const PAGE: Page = page!("LN501", "ln501_need_unmet.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("this is done before {}", self.wanted));
        say.label(self.act, format!("done here, with {}", self.stands));
        if self.need != self.act {
            say.label(self.need, "this asks for it");
        }
        say.path(&self.path);
        say.consequence("the fitter comes to this line and what it rests on is not so");
        say.fallback("bring this about before this line, or move the line to where it is so");
        if self.more > 0 {
            say.note(format!("the same is missing elsewhere: {}", crate::words::places(self.more)));
        }
    }
}
