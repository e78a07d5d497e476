//! LN412: a line that stands after an end.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A line to which no way leads.
pub(crate) struct NeverReached {
    pub(crate) line: Span,
    /// The line that ended the last way.
    pub(crate) end: Option<Span>,
}

impl Finding for NeverReached {
    const PAGE: Page = page!("LN412", "ln412_never_reached.md");

    fn show(&self, say: &mut Report) {
        say.title("this line is never reached");
        say.label(self.line, "every way has ended before it");
        if let Some(end) = self.end {
            say.label(end, "the last way on ends here");
        }
        say.consequence("what stands here is printed, and nobody ever comes to it");
        say.mend("let one of the ways above go on, or take this line out");
    }
}
