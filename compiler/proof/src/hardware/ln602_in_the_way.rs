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
        say.title(format!("the {} cannot be worked on with {}", self.thing, self.stands));
        say.label(self.act, format!("only where {}", self.wanted));
        say.path(&self.path);
        say.consequence(format!(
            "the fitter finds the {} in the way, or nothing that would hold the {}",
            self.other, self.thing
        ));
        say.fallback(format!(
            "see to it that {} before this line, with a line of its own or in another order",
            self.wanted
        ));
    }
}
