//! LN602: a part is acted on while another is in its way.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// A part is acted on while another is in its way.
pub(crate) struct InTheWay {
    pub(crate) act: Span,
    pub(crate) thing: String,
    pub(crate) other: String,
    pub(crate) wanted: String,
    pub(crate) stands: String,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for InTheWay {
    const PAGE: Page = page!("LN602", "ln602_in_the_way.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("the {} cannot be reached: {}", self.thing, self.stands));
        say.label(self.act, format!("only where {}", self.wanted));
        say.path(&self.path);
        say.consequence(format!(
            "the fitter finds the {} in the way, or nothing there that it could hold",
            self.other
        ));
        say.fallback("change the order of the lines");
    }
}
