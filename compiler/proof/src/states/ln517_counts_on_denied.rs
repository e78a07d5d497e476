//! LN517: something counts on a state that a reading has just denied.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// Something counts on a state that a reading has just denied.
pub(crate) struct CountsOnDenied {
    pub(crate) act: Span,
    pub(crate) state: String,
    pub(crate) wanted: String,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for CountsOnDenied {
    const PAGE: Page = page!("LN517", "ln517_counts_on_denied.md");

    fn show(&self, say: &mut Report) {
        let Self { act, state, wanted, path } = self;
        say.title(format!("this is done where a reading has just denied how {state} stands"));
        say.label(
            *act,
            if wanted.starts_with("never ") {
                format!("nobody knows here that this is kept: {wanted}")
            } else {
                format!("it may be done only where {wanted}")
            },
        );
        say.path(path);
        say.consequence(
            "the reading says that it is not so, and the technician works as if it were",
        );
        say.mend(format!(
            "leave it out where the reading denies it, or set {state} anew and prove it ahead of this line"
        ));
    }
}
