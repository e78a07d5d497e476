//! LN653: a torque after an angle.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A stage by torque behind a stage by angle.
pub(crate) struct TorqueAfterAngle {
    pub(crate) torque: String,
    pub(crate) span: Span,
    pub(crate) angle: Span,
}

impl Finding for TorqueAfterAngle {
    const PAGE: Page = page!("LN653", "ln653_torque_after_angle.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} is asked for after the angle", self.torque));
        say.label(self.span, "the wrench clicks here before it has moved, or turns on without end");
        say.label(self.angle, "turned by an angle here");
        say.consequence(
            "after the angle the bolt is at its yield: a torque says nothing there, and more turning breaks it",
        );
        say.mend(format!("put the torque first: to {}, then turned by the angle", self.torque));
    }
}
