//! LN328: a state at one point is to be proved by a reading that is taken elsewhere.

use crate::findings::names::listed;
use locknut_finding::{Finding, Page, Report, Span, page};

/// A proof of a state at a point, by a reading that does not show it.
pub(crate) struct ProvedElsewhere {
    pub(crate) proves: Span,
    /// `supply at right`
    pub(crate) state: String,
    /// Where it is read; empty: at no point in particular.
    pub(crate) points: Vec<String>,
}

impl Finding for ProvedElsewhere {
    const PAGE: Page = page!("LN328", "ln328_proved_elsewhere.md");

    fn show(&self, say: &mut Report) {
        let state = &self.state;
        say.title(format!("this reading cannot prove the {state}: it is not taken there"));
        say.label(
            self.proves,
            if self.points.is_empty() {
                "it is read at no point in particular".to_owned()
            } else {
                format!("it is read at {}", listed(&self.points, "and"))
            },
        );
        say.consequence("one place is found dead, and a hand goes into another that is live");
        say.mend("measure at that point, as in: measure … at POINT … proves STATE at POINT is …; for all of them, name each of them after “at”");
    }
}
