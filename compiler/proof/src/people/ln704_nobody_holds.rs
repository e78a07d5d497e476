//! LN704: a part hangs loose, and nobody holds it.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// A part that must be held by hand is held by nobody.
pub(crate) struct NobodyHolds {
    /// None: at the start.
    pub(crate) act: Option<Span>,
    pub(crate) declared: Span,
    pub(crate) part: String,
    pub(crate) name: String,
    pub(crate) stands: String,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for NobodyHolds {
    const PAGE: Page = page!("LN704", "ln704_nobody_holds.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("the {} hangs loose here, and nobody holds it", self.part));
        match self.act {
            Some(act) => say.label(act, format!("from here on: {}", self.stands)),
            None => say.label(self.declared, "loose from the start"),
        }
        if self.act.is_some() {
            say.label(self.declared, "it must be held by hand");
        }
        say.path(&self.path);
        say.consequence(format!("the {} drops on hands or feet", self.part));
        say.fallback(format!(
            "let somebody of the crew hold it from before this line on, beside others in their own lane: hold {} until … is done",
            self.name
        ));
    }
}
