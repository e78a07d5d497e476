//! LN511: a reading proves something that the path has not made so.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// A reading proves something that the path has not made so.
pub(crate) struct ProvedTooEarly {
    pub(crate) act: Span,
    pub(crate) variable: String,
    pub(crate) wanted: String,
    pub(crate) stands: String,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for ProvedTooEarly {
    const PAGE: Page = page!("LN511", "ln511_proved_too_early.md");

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "this proves the {} {} before it was made so",
            self.variable, self.wanted
        ));
        say.label(self.act, format!("read here, with {}", self.stands));
        say.path(&self.path);
        say.consequence(
            "a reading that happens to be right says nothing about a switch that nobody has opened",
        );
        say.fallback(format!("make it {} before this reading", self.wanted));
    }
}
