//! LN612: a fastener that may hold too little.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// A fastener that may hold too little.
pub(crate) struct TooLoose {
    pub(crate) act: Span,
    pub(crate) thing: String,
    pub(crate) torque: String,
    pub(crate) friction: String,
    pub(crate) preload: String,
    /// Whether nothing is said to be on the threads.
    pub(crate) dry: bool,
    /// Whether the friction is said to have been measured.
    pub(crate) measured: bool,
    /// What spreads the torque far.
    pub(crate) causes: Vec<String>,
    /// What an angle adds at most.
    pub(crate) turned: Option<String>,
    /// What the self-locking nut takes of the torque.
    pub(crate) nut: Option<String>,
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
        let less =
            self.nut.as_ref().map(|nut| format!(", less {nut} that the nut takes by itself,"));
        let more = self.turned.as_ref();
        let more =
            more.map(|by| format!(", and the angle adds {by} at most, if the parts gave nothing"));
        let (less, more) = (less.unwrap_or_default(), more.unwrap_or_default());
        say.label(
            self.act,
            format!(
                "{}{less} at friction {} leave {}{more}",
                self.torque, self.friction, self.preload
            ),
        );
        say.label(
            self.declared,
            format!("{}: {} at least are asked for", self.fastener, self.least),
        );
        say.consequence("a joint that is clamped too little shifts and works loose");
        if self.turned.is_some() {
            say.mend("look up again by how much they are turned on, and which length they clamp");
        }
        if self.nut.is_some() {
            say.mend("look up again what the nut takes by itself: prevailing 2 .. 6 N·m");
        }
        self.causes.iter().for_each(|cause| say.mend(cause.clone()));
        if self.measured {
            say.mend(format!("look the friction that is stated up again: {}", self.friction));
        }
        let oil = if self.dry { "; or oil the threads, and say so with the bolts" } else { "" };
        say.mend(format!("take the maker's figure for this thread, class and condition{oil}"));
        say.mend("or answer it where it stands, as for a plug that only seals: despite LN612 because \"…\"");
        say.note("the part that is asked for stands in library.yaml: least-preload");
    }
}
