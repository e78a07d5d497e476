//! LN611: wrench and friction together may stretch a fastener for good.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// Wrench and friction together may stretch a fastener for good.
pub(crate) struct MayYield {
    pub(crate) act: Span,
    pub(crate) thing: String,
    pub(crate) torque: String,
    pub(crate) friction: String,
    pub(crate) stress: String,
    pub(crate) limit: String,
    pub(crate) declared: Span,
    pub(crate) fastener: String,
    /// Whether the friction was measured already.
    pub(crate) measured: bool,
    /// What spreads the torque far.
    pub(crate) causes: Vec<String>,
}

impl Finding for MayYield {
    const PAGE: Page = page!("LN611", "ln611_may_yield.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!("some of the {} may stretch for good", self.thing));
        say.label(
            self.act,
            format!(
                "up to {} at friction {}: {}, and they yield at {}",
                self.torque, self.friction, self.stress, self.limit
            ),
        );
        say.label(self.declared, self.fastener.clone());
        say.consequence(
            "where the threads run easily and the wrench brings more than it shows, a bolt yields, and nobody sees which",
        );
        self.causes.iter().for_each(|cause| say.mend(cause.clone()));
        if self.measured {
            say.mend("take a lower figure, or a wrench with a smaller error");
        } else {
            say.mend(format!(
                "have the friction measured, and where the least of it lies well above {}, say so with the bolts: friction LEAST .. GREATEST per \"…\"; or take a lower figure",
                self.friction
            ));
        }
        say.mend("or answer it where it stands: despite LN611 because \"…\"");
        say.note("the whole sum: locknut check --show sums");
    }
}
