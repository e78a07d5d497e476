//! LN612: a fastener that may hold too little.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// A fastener that may hold too little.
pub(crate) struct TooLoose {
    pub(crate) act: Span,
    pub(crate) thing: String,
    pub(crate) torque: String,
    pub(crate) friction: String,
    pub(crate) preload: String,
    pub(crate) share: String,
    pub(crate) least: String,
    pub(crate) declared: Span,
    pub(crate) fastener: String,
}

impl Finding for TooLoose {
    const PAGE: Page = page!("LN612", "ln612_too_loose.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!("the {} may hold only {} of their proof load", self.thing, self.share));
        say.label(
            self.act,
            format!("{} at friction {} leave {}", self.torque, self.friction, self.preload),
        );
        say.label(
            self.declared,
            format!("{}: {} at least are asked for", self.fastener, self.least),
        );
        say.consequence("a joint that is clamped too little shifts and works loose");
        say.mend("take the maker's figure for this thread, class and condition; or oil the threads, and say so with the bolts");
        say.mend("or answer it where it stands, as for a plug that only seals: despite LN612 because \"…\"");
        say.note("the part that is asked for stands in library.yaml: least-preload");
    }
}
