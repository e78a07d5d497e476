//! LN660: like fasteners of one joint with two figures.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// Two sets of like fasteners that hold one part are tightened to different figures.
pub(crate) struct TwoFigures {
    pub(crate) thing: String,
    pub(crate) figure: String,
    pub(crate) span: Span,
    pub(crate) other: String,
    pub(crate) other_figure: String,
    pub(crate) other_at: Span,
    /// `M8 of class 8.8, dry`
    pub(crate) fastener: String,
    pub(crate) part: String,
}

impl Finding for TwoFigures {
    const PAGE: Page = page!("LN660", "ln660_two_figures.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "the {} is held by {} that are tightened to two figures",
            self.part, self.fastener
        ));
        say.label(self.span, format!("{}: {}", self.thing, self.figure));
        say.label(self.other_at, format!("{}: {}", self.other, self.other_figure));
        say.consequence(
            "the bolts look alike: each workshop tightens some of them to the other figure, and the part sits askew",
        );
        say.mend("give both sets the figure of the drawing, where it is one");
        say.mend("or say what is different about one of them: its class, its condition, its friction with its source, its head, or what it carries");
    }
}
