//! LN901: a hazard that is printed in no procedure of the library.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A hazard that is printed in no procedure of the library.
pub(crate) struct HazardNowhere {
    pub(crate) hazard: Span,
}

impl Finding for HazardNowhere {
    const PAGE: Page = page!("LN901", "ln901_hazard_nowhere.md");

    fn show(&self, say: &mut Report) {
        say.title("this hazard is printed in no procedure, so nobody is ever told of it");
        say.label(self.hazard, "never printed");
        say.consequence("a hazard that nobody reads protects nobody");
        say.mend("look at what it is `at`, and at its `while`: no procedure acts on that thing after the condition may have come true");
    }
}
