//! LN321: something is decided by a reading for which no accuracy is asked.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A limit, a check or a choice rests on a rough reading.
pub(crate) struct RestsOnRough {
    pub(crate) used: Span,
    pub(crate) read: Span,
    pub(crate) name: String,
}

impl Finding for RestsOnRough {
    const PAGE: Page = page!("LN321", "ln321_rests_on_rough.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("something is decided by {}, which is read but roughly", self.name));
        say.label(self.used, "decided here");
        if self.read != self.used {
            say.label(self.read, "“roughly” is said here");
        }
        say.consequence("the fitter reads by eye, and a part passes or fails by chance");
        say.mend("take “roughly” out, or decide by another reading");
    }
}
