//! LN427: a subtask is done at a point, and what it is on stands at none.

use locknut_finding::{Finding, Page, Report, Span, page};

/// `do look at front`, of a subtask that is not on an assembly at points.
pub(crate) struct StandsNowhere {
    pub(crate) subtask: String,
    /// What the subtask is on.
    pub(crate) on: Option<String>,
    /// The subtask that calls it, where that is itself on an assembly at points.
    pub(crate) around: Option<String>,
    pub(crate) point: String,
    pub(crate) span: Span,
}

impl Finding for StandsNowhere {
    const PAGE: Page = page!("LN427", "ln427_stands_nowhere.md");

    fn show(&self, say: &mut Report) {
        let Self { subtask, on, around, point, span } = self;
        let what = on.as_deref().unwrap_or("no machine");
        if let Some(around) = around {
            say.title(format!(
                "{around} is done at one point, and does {subtask} at another: {point}"
            ));
            say.label(
                *span,
                format!("{around} knows of no {point}: its caller says where it is done"),
            );
            say.consequence(
                "the technician is sent from the one to the other in the middle of the work on one",
            );
            say.mend(format!(
                "leave “at {point}” out: it is done where {around} is done; or do {subtask} at {point} in the procedure that does {around}"
            ));
            return;
        }
        say.title(format!("{subtask} is a subtask on {what}, which stands at no point {point}"));
        say.label(*span, "there is only one of it");
        say.consequence("nothing in its lines would change: the technician does the whole of it again at each point");
        say.mend(format!(
            "leave “at {point}” out; or write the subtask on an assembly that the model is made of at {point}: made of ASSEMBLY at {point}, …"
        ));
    }
}
