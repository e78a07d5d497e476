//! LN401: a step that no path reaches.

use locknut_finding::{Finding, Page, Report, Span, page};
use locknut_graph::NeverTaken;

/// A step that no path reaches.
pub(crate) struct UnreachableStep {
    pub(crate) step: Span,
    pub(crate) number: String,
    /// The arm that no reading takes, where that is why.
    pub(crate) why: Option<NeverTaken>,
}

impl Finding for UnreachableStep {
    const PAGE: Page = page!("LN401", "ln401_unreachable_step.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("nobody ever comes to step {}", self.number));
        say.label(self.step, "no path leads here");
        if let Some(NeverTaken { asked, reading, can_be, settled, .. }) = &self.why {
            say.label(
                *asked,
                format!("{reading} can only be {can_be} here: no reading leads into this arm"),
            );
            say.label(*settled, format!("from this line on {reading} is {can_be}"));
        }
        say.consequence(
            "the step stands on the sheet and is never open; the fitter wonders when to do it",
        );
        say.mend(match &self.why {
            Some(_) => "take it out, or correct the figure that is asked, or what the line before it lets through",
            None => "take it out, or let a path lead to it: look at the ends of the steps and the arms before it",
        });
    }
}
