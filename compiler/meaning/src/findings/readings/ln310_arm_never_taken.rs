//! LN310: an arm that no reading takes.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// A dead arm.
pub(crate) struct ArmNeverTaken {
    pub(crate) name: String,
    pub(crate) arm: String,
    pub(crate) span: Span,
    pub(crate) can_be: String,
    pub(crate) bounded_by: String,
}

impl Finding for ArmNeverTaken {
    const PAGE: Page = page!("LN310", "ln310_arm_never_taken.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!("{} never takes the arm “{}”", self.name, self.arm));
        say.label(self.span, format!("it can only be {}", self.can_be));
        say.consequence("what stands behind this arm is never done");
        say.note(self.bounded_by.clone());
        say.mend("take the arm out, or look at its limit again");
    }
}
