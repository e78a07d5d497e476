//! LN210: several figures where one is wanted, or the other way round.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A range, three figures or several points where a single value is wanted.
pub(crate) struct OneFigure {
    pub(crate) written: String,
    pub(crate) span: Span,
    /// What stands there: `a range`, `three figures`, `3 points`.
    pub(crate) found: String,
    /// What is wanted: `one figure`, `a range`.
    pub(crate) wanted: &'static str,
    pub(crate) mend: String,
}

impl OneFigure {
    /// A figure to tighten to that says only where it begins, or only where it ends.
    pub(crate) fn open_ended(written: &str, span: Span) -> Self {
        Self {
            written: written.to_owned(),
            span,
            found: "open at one end".to_owned(),
            wanted: "a figure to tighten to",
            mend: "say both ends, or the middle and the tolerance: to 22 ± 2 N·m".to_owned(),
        }
    }
}

impl Finding for OneFigure {
    const PAGE: Page = page!("LN210", "ln210_one_figure.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} is {}, and {} is wanted", self.written, self.found, self.wanted));
        say.label(self.span, format!("{} is wanted here", self.wanted));
        say.mend(&self.mend);
    }
}
