//! LN651: a tightening figure that differs from the model's.

use locknut_finding::{Finding, Page, Report, Span, page};

/// Two figures for one set of fasteners.
pub(crate) struct FigureDiffers {
    pub(crate) thing: String,
    pub(crate) written: String,
    pub(crate) span: Span,
    pub(crate) declared: String,
    pub(crate) declared_at: Span,
}

impl Finding for FigureDiffers {
    const PAGE: Page = page!("LN651", "ln651_figure_differs.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} are tightened to another figure than the machine's", self.thing));
        say.label(self.span, format!("here {}", self.written));
        say.label(self.declared_at, format!("the machine says {}", self.declared));
        say.consequence("one of the two is wrong, and a workshop cannot tell which");
        say.mend(
            "leave the figure out, and the machine's is printed; or give the reason: because \"…\"",
        );
    }
}
