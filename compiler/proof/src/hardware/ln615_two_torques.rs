//! LN615: one joint is tightened to two figures in one library.

use locknut_finding::{Finding, Page, Report, Span, page};

/// One joint is tightened to two figures in one library.
pub(crate) struct TwoTorques {
    pub(crate) act: Span,
    pub(crate) thing: String,
    pub(crate) written: String,
    pub(crate) other: Span,
    pub(crate) other_written: String,
}

impl Finding for TwoTorques {
    const PAGE: Page = page!("LN615", "ln615_two_torques.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("two figures stand for one joint: the {}", self.thing));
        say.label(self.act, format!("here {}", self.written));
        say.label(self.other, format!("here {}", self.other_written));
        say.consequence("one of the two is wrong, and a workshop cannot tell which");
        say.mend("declare the figure with the fasteners, once: tightened to …; where one job needs another, give the reason there: because \"…\"");
    }
}
