//! LN513: a state is changed while a lock bars it.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// A state is changed while a lock bars it.
pub(crate) struct Locked {
    pub(crate) act: Span,
    pub(crate) lock: String,
    pub(crate) at: Option<Span>,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for Locked {
    const PAGE: Page = page!("LN513", "ln513_locked.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("this cannot be done while the {} is locked", self.lock));
        say.label(self.act, "done here");
        if let Some(at) = self.at {
            say.label(at, "locked since here");
        }
        say.path(&self.path);
        say.consequence("the fitter stands before a locked switch, or cuts the lock off");
        say.fallback(format!("unlock the {} before this line", self.lock));
    }
}
