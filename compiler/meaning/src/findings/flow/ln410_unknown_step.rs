//! LN410: a step is spoken of that the procedure does not have.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A step name that nothing has.
pub(crate) struct UnknownStep {
    pub(crate) name: String,
    pub(crate) at: Span,
    pub(crate) near: Option<String>,
    /// Where a reading of that name is taken, which is no step of its own.
    pub(crate) read_at: Option<Span>,
}

impl Finding for UnknownStep {
    const PAGE: Page = page!("LN410", "ln410_unknown_step.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("no step is called {}", self.name));
        say.label(self.at, "named here");
        match (&self.near, self.read_at) {
            (_, Some(read_at)) => {
                say.label(read_at, "a reading of that name is taken here, inside a step");
                say.mend("name that step, and go back to it by its name: step NAME \"…\" { … }");
            }
            (Some(near), None) => {
                say.mend_with(format!("did you mean {near}?"), self.at, near);
            }
            (None, None) => {
                say.mend(format!("name the step that is meant: step {} \"…\"", self.name));
            }
        }
    }
}
