//! LN323: the job goes on after a reading that was to prove a state, and did not.

use locknut_finding::{Finding, Page, Report, Span, page};

/// An outcome that upsets a proof leads on as if the state were as it was said to be.
pub(crate) struct ProofFailed {
    pub(crate) outcome: Span,
    pub(crate) proves: Span,
    /// `supply`.
    pub(crate) state: String,
}

impl Finding for ProofFailed {
    const PAGE: Page = page!("LN323", "ln323_proof_failed.md");

    fn show(&self, say: &mut Report) {
        let Self { state, .. } = self;
        say.title(format!("the job goes on though {state} was just found otherwise"));
        say.label(self.outcome, "this outcome goes on, and changes nothing of it");
        say.label(self.proves, "it was to be proved here");
        say.consequence(format!(
            "what comes next takes {state} to be what the reading has just denied"
        ));
        say.mend(format!(
            "stop, refer, or repeat the step; or set {state} to what it is, and prove it again"
        ));
    }
}
