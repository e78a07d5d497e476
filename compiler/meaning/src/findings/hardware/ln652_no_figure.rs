//! LN652: fasteners are tightened to no figure.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// A tightening of which nothing says how far.
pub(crate) struct NoFigure {
    pub(crate) verb: String,
    pub(crate) thing: String,
    pub(crate) span: Span,
    pub(crate) declared: Span,
}

impl Finding for NoFigure {
    const PAGE: Page = page!("LN652", "ln652_no_figure.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!("nothing says how far to {} {}", self.verb, self.thing));
        say.label(self.span, "no figure here");
        say.label(self.declared, "and none where they are declared");
        say.consequence("each workshop tightens by feel: too little and they work loose, too much and they stretch");
        say.mend("take the figure from the maker’s table and declare it with them: tightened to … N·m; or say how hard: with one-hand");
    }
}
