//! LN701: a step is given to somebody who is not in the crew.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A step is given to somebody who is not in the crew.
pub(crate) struct NotInCrew {
    pub(crate) step: Span,
    pub(crate) role: String,
    pub(crate) crew: Vec<String>,
}

impl Finding for NotInCrew {
    const PAGE: Page = page!("LN701", "ln701_not_in_crew.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("this step is for a {}, and there is none in the crew", self.role));
        say.label(self.step, "nobody is there to do it");
        say.consequence(
            "the job stops here until somebody is found, or somebody untrained does it",
        );
        if self.crew.is_empty() {
            say.mend(format!("write `crew {}` at the head of the procedure", self.role));
        } else {
            say.mend(format!(
                "give it to one of the crew ({}), or add `{}` to `crew`",
                self.crew.join(", "),
                self.role
            ));
        }
    }
}
