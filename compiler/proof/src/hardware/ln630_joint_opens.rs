//! LN630: a joint that its working load may open.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// A joint that its working load may open.
pub(crate) struct JointOpens {
    pub(crate) act: Span,
    pub(crate) thing: String,
    /// What they hold: what the least torque leaves, or their proof load where the load reaches that.
    pub(crate) holds: String,
    /// Whether the load reaches their proof load: then no tightening helps.
    pub(crate) beyond: bool,
    pub(crate) load: String,
    /// The load on all of them together that it comes of, as written, and to which of them; none where it is said of each.
    pub(crate) whole: Option<(String, &'static str)>,
    pub(crate) declared: Span,
    pub(crate) fastener: String,
    /// Whether nothing is said to be on the threads.
    pub(crate) dry: bool,
}

impl Finding for JointOpens {
    const PAGE: Page = page!("LN630", "ln630_joint_opens.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!("{} may pull the joint of the {} open", self.load, self.thing));
        say.label(self.act, self.holds.clone());
        let bears = match &self.whole {
            Some((whole, to)) => format!("of {whole}, {} come to {to}", self.load),
            None => format!("each carries {}", self.load),
        };
        say.label(self.declared, format!("{}: {bears}", self.fastener));
        say.consequence(
            "the parts lift off each other at every stroke of the load, and the bolts break after some time",
        );
        if self.beyond {
            say.mend("take fasteners of a greater size or class, or more of them; or correct what each of them carries");
        } else {
            let oil = if self.dry { ", or oil the threads and say so with them" } else { "" };
            say.mend(format!(
                "tighten to the figure that the load asks for, with a wrench that keeps it{oil}"
            ));
        }
        say.mend("or answer it where it stands: despite LN630 because \"…\"");
        if !self.beyond {
            say.note("all of the load is taken to come off the clamping, as if the parts were stiff beyond measure; in truth the bolts take a part of it");
        }
    }
}
