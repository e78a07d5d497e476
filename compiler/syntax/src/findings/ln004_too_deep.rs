//! LN004: brackets in brackets, or a chain, beyond what is read.

use locknut_finding::{Finding, Page, Report, Span, page};

/// Brackets in brackets, or a chain, beyond what is read.
pub(crate) struct TooDeep {
    pub(crate) place: Span,
    pub(crate) what: Deep,
}

/// What goes on for too long.
pub(crate) enum Deep {
    Blocks,
    Chain,
    /// `failing that … failing that …`
    Failing,
}

impl Finding for TooDeep {
    const PAGE: Page = page!("LN004", "ln004_too_deep.md");

    fn show(&self, say: &mut Report) {
        match self.what {
            Deep::Blocks => {
                say.title("blocks stand in each other more than 64 deep");
                say.label(self.place, "the 65th opens here");
                say.mend("make a subtask of the inner steps");
            }
            Deep::Chain => {
                say.title("this line chains more than 200 operators");
                say.label(self.place, "too long to be read");
                say.mend("split it, or give parts of it names of their own");
            }
            Deep::Failing => {
                say.title("more than 50 ends wait here for one before them to fail");
                say.label(self.place, "one `failing that` too many");
                say.mend("let one of them end the job: stop, or refer to somebody who can tell");
            }
        }
        say.consequence("nobody can follow such a line or block, on paper or on a screen");
    }
}
