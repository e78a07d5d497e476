//! LN630: a joint that its working load may open.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// A joint that its working load may open.
pub(crate) struct JointOpens {
    pub(crate) act: Span,
    pub(crate) thing: String,
    pub(crate) torque: String,
    pub(crate) preload: String,
    pub(crate) load: String,
    pub(crate) declared: Span,
    pub(crate) fastener: String,
}

impl Finding for JointOpens {
    const PAGE: Page = page!("LN630", "ln630_joint_opens.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!("{} may pull the joint of the {} open", self.load, self.thing));
        say.label(self.act, format!("{} may leave only {}", self.torque, self.preload));
        say.label(self.declared, format!("{}: each carries {}", self.fastener, self.load));
        say.consequence(
            "the parts lift off each other at every stroke of the load, and the bolts break after some time",
        );
        say.mend("tighten to the figure that the load asks for, with a wrench that keeps it, or oil the threads and say so with them");
        say.mend("or answer it where it stands: despite LN630 because \"…\"");
        say.note("all of the load is taken to come off the clamping, as if the parts were stiff beyond measure; in truth the bolts take a part of it");
    }
}
