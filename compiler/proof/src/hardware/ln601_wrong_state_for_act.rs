//! LN601: an act on an element that is not in a state from which it can be done.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// An act on an element that is not in a state from which it can be done.
pub(crate) struct WrongStateForAct {
    pub(crate) act: Span,
    pub(crate) thing: String,
    pub(crate) wanted: String,
    pub(crate) stands: String,
    pub(crate) since: Option<Span>,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for WrongStateForAct {
    const PAGE: Page = page!("LN601", "ln601_wrong_state_for_act.md");

    fn show(&self, say: &mut Report) {
        say.title(if self.stands.is_empty() {
            "this cannot be done".to_owned()
        } else {
            format!("this cannot be done: {}", self.stands)
        });
        say.label(self.act, format!("only where {}", self.wanted));
        if let Some(since) = self.since {
            say.label(since, format!("{} since here", self.stands));
        }
        say.path(&self.path);
        say.consequence(format!(
            "the fitter finds the {} otherwise than the line says",
            self.thing
        ));
        say.fallback("take this line out, or bring the thing to that state first");
    }
}
