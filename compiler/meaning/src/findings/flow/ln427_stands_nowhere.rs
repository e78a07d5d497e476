//! LN427: a subtask is done at a point, and what it is on stands at none.

use locknut_finding::{Finding, Page, Report, Span, page};

/// `do look at front`, of a subtask that is not on an assembly at points.
pub(crate) struct StandsNowhere {
    pub(crate) subtask: String,
    /// What the subtask is on.
    pub(crate) on: Option<String>,
    pub(crate) point: String,
    pub(crate) span: Span,
}

impl Finding for StandsNowhere {
    const PAGE: Page = page!("LN427", "ln427_stands_nowhere.md");

    fn show(&self, say: &mut Report) {
        let Self { subtask, on, point, span } = self;
        let what = on.as_deref().unwrap_or("no machine");
        say.title(format!("{subtask} is a subtask on {what}, which stands at no point {point}"));
        say.label(*span, "there is only one of it");
        say.consequence("nothing in its lines would change: the technician does the whole of it again at each point");
        say.mend(format!(
            "leave “at {point}” out; or write the subtask on an assembly that the model is made of at {point}: made of ASSEMBLY at {point}, …"
        ));
    }
}
