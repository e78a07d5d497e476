//! LN357: a difference of two points is judged on one side.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// A difference of one reading at two points, of which only one sign is judged.
pub(crate) struct JudgedOnOneSide {
    pub(crate) name: String,
    /// The difference as it is written.
    pub(crate) written: String,
    pub(crate) value: Span,
    pub(crate) limit: String,
    pub(crate) span: Span,
    /// How far it may go the other way.
    pub(crate) other: String,
}

impl Finding for JudgedOnOneSide {
    const PAGE: Page = page!("LN357", "ln357_judged_on_one_side.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        let Self { name, written, limit, other, .. } = self;
        say.title(format!(
            "{name} is judged on one side: where the two points have changed places, it passes"
        ));
        say.label(self.value, format!("this may come to {other}"));
        say.label(self.span, format!("and all of that is {limit}"));
        say.consequence("a machine that is off the other way passes, however far it is off");
        say.mend(format!("judge how far the two lie apart: abs({written})"));
        say.mend("or, where only one way does harm, say so ahead of the { of this line: despite LN357 because \"…\" {");
    }
}
