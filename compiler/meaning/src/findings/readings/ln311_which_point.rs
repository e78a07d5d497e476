//! LN311: arms on a reading of several points.

use crate::findings::names::listed;
use locknut_finding::{Finding, Page, Report, Span, page};

/// Several points and one decision.
pub(crate) struct WhichPoint {
    pub(crate) name: String,
    pub(crate) points: Vec<String>,
    pub(crate) body: Span,
    pub(crate) reading: Span,
}

impl Finding for WhichPoint {
    const PAGE: Page = page!("LN311", "ln311_which_point.md");

    fn show(&self, say: &mut Report) {
        let points = listed(&self.points, "and");
        say.title(format!("the arms do not say which point of {} decides", self.name));
        say.label(self.body, "one way is taken");
        say.label(self.reading, format!("measured at {points}"));
        say.consequence("with one point good and one bad nobody knows which line to go on by");
        say.mend(format!(
            "decide by one figure: check worst = max({}) {{ … }}, with the arms there",
            self.name
        ));
    }
}
