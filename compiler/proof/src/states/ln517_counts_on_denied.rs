//! LN517: something counts on a state that a reading has just denied.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// What counts on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Counts {
    /// What is done.
    Act,
    /// The job ends, and is safe to leave by that state alone.
    Stop,
    /// What is handed over at the end.
    HandsOver,
}

/// Something counts on a state that a reading has just denied.
pub(crate) struct CountsOnDenied {
    pub(crate) act: Span,
    /// The reading that denied it.
    pub(crate) denied_at: Option<Span>,
    pub(crate) state: String,
    pub(crate) counts: Counts,
    pub(crate) wanted: String,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for CountsOnDenied {
    const PAGE: Page = page!("LN517", "ln517_counts_on_denied.md");

    fn show(&self, say: &mut Report) {
        let Self { act, denied_at, state, counts, wanted, path } = self;
        let stops = *counts == Counts::Stop;
        say.title(if stops {
            format!("the job stops here where a reading has just denied how {state} stands")
        } else {
            format!("this is done where a reading has just denied how {state} stands")
        });
        say.label(
            *act,
            if stops {
                format!("ends here, and nothing but {state} would make it safe to leave")
            } else if *counts == Counts::HandsOver {
                format!("nobody knows at the end that this is so: {wanted}")
            } else if wanted.starts_with("never ") {
                format!("nobody knows here that this is kept: {wanted}")
            } else {
                format!("it may be done only where {wanted}")
            },
        );
        if let Some(reading) = denied_at {
            say.label(*reading, "denied by this reading");
        }
        say.path(path);
        if stops {
            say.consequence("everybody goes away from a machine that may not be as it was made");
            say.mend(format!(
                "see to it by something else than {state} that it is safe to leave, ahead of this line"
            ));
        } else {
            say.consequence(
                "the reading says that it is not so, and the technician works as if it were",
            );
            say.mend(format!(
                "leave it out where the reading denies it, or set {state} anew and prove it ahead of this line"
            ));
        }
    }
}
