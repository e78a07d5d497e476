//! LN614: an angle that may stretch fasteners for good, which are used again.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// An angle that may stretch fasteners for good, which are used again.
pub(crate) struct StretchedAgain {
    pub(crate) act: Span,
    pub(crate) thing: String,
    pub(crate) strain: String,
    /// The friction at which they come nearest to yielding.
    pub(crate) friction: String,
    pub(crate) limit: String,
    pub(crate) declared: Span,
}

impl Finding for StretchedAgain {
    const PAGE: Page = page!("LN614", "ln614_stretched_again.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "the angle may stretch the {} for good, and they are used again",
            self.thing
        ));
        say.label(
            self.act,
            format!(
                "by {} of their length at friction {}; twisted as they are by then they yield at {}",
                self.strain, self.friction, self.limit
            ),
        );
        say.label(self.declared, "not said to be single use");
        say.consequence(
            "a bolt that was stretched once is thinner and harder: the next time it breaks",
        );
        say.mend("say with them: single use; then they are removed and renewed ahead of every tightening, and a `retighten` of them goes out");
        say.mend("or answer it where it stands: despite LN614 because \"…\"");
        say.note("reckoned as if the parts gave nothing; what they give takes stretch away from the bolts");
    }
}
