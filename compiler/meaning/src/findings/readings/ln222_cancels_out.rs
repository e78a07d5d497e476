//! LN222: a reading cancels out of what is worked out.

use crate::findings::names::listed;
use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// A worked-out value that is the same whatever some of its readings are.
pub(crate) struct CancelsOut {
    /// What is worked out.
    pub(crate) name: String,
    /// The sum.
    pub(crate) span: Span,
    /// The readings that it does not turn on.
    pub(crate) readings: Vec<String>,
}

impl Finding for CancelsOut {
    const PAGE: Page = page!("LN222", "ln222_cancels_out.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        let readings = listed(&self.readings, "and");
        say.title(format!("{} is the same whatever {readings} may be", self.name));
        say.label(self.span, format!("of {readings} nothing is left in this sum"));
        say.consequence("what was read is not judged, though the line looks as if it were");
        say.mend("look at the signs again, and at whether each reading is the one that is meant");
        say.mend("or take it out of the sum");
    }
}

/// The same stands twice in a fold: `spread(bore at left, bore at left)`.
pub(crate) struct TwiceInFold {
    pub(crate) written: String,
    pub(crate) first: Span,
    pub(crate) again: Span,
}

impl Finding for TwiceInFold {
    const PAGE: Page = CancelsOut::PAGE;
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!("{} stands twice in one sum over values", self.written));
        say.label(self.again, "again here");
        say.label(self.first, "first here");
        say.consequence("the reading that was meant in its place is not judged at all");
        say.mend("name the other reading, or the other point, that was meant");
        say.mend("or take one of the two out");
    }
}
