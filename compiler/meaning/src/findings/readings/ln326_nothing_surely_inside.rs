//! LN326: a guarded limit that no reading keeps.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A guarded limit whose guard bands leave no reading between them.
pub(crate) struct NothingSurelyInside {
    pub(crate) name: String,
    pub(crate) limit: String,
    pub(crate) span: Span,
    /// By how much it is drawn in.
    pub(crate) band: String,
    /// Whether it is an arm.
    pub(crate) arm: bool,
}

impl Finding for NothingSurelyInside {
    const PAGE: Page = page!("LN326", "ln326_nothing_surely_inside.md");

    fn show(&self, say: &mut Report) {
        if self.arm {
            say.title(format!("no reading of {} surely takes this arm", self.name));
        } else {
            say.title(format!("no reading of {} can be accepted", self.name));
        }
        say.label(self.span, format!("{} less its guard bands holds no reading", self.limit));
        if self.arm {
            say.consequence(
                "this arm is never taken: all that it was written for goes to the arms beside it",
            );
        } else {
            say.consequence("the job waits here for ever, or the fitter learns to pass it by");
        }
        say.note(format!(
            "it is drawn in by up to {}: as much as the value may be wrong, and on to the next digit",
            self.band
        ));
        say.mend("name an instrument with a smaller error, or judge it “as read”");
    }
}
