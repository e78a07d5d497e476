//! LN305: readings for which no arm says what follows.

use crate::findings::names::listed;
use locknut_finding::{Finding, Page, Report, Span, page};

/// Arms that leave something uncovered.
pub(crate) struct ArmsGap {
    pub(crate) name: String,
    /// The uncovered stretches or answers in words.
    pub(crate) gaps: Vec<String>,
    pub(crate) body: Span,
    /// What bounds the readings: `feeler gauge shows 0.03 .. 2 mm`.
    pub(crate) bounded_by: String,
    /// Answers rather than numbers.
    pub(crate) answers: bool,
    /// Where a value is worked out and its arms leave a crack between two digits: how the next arm would begin.
    pub(crate) over: Option<String>,
}

impl Finding for ArmsGap {
    const PAGE: Page = page!("LN305", "ln305_arms_gap.md");

    fn show(&self, say: &mut Report) {
        let gaps = listed(&self.gaps, "and");
        say.title(format!("nothing says what follows when {} is {gaps}", self.name));
        say.label(self.body, format!("no arm covers {gaps}"));
        say.consequence("a technician with this reading has no line to go on by");
        if !self.bounded_by.is_empty() {
            say.note(self.bounded_by.clone());
        }
        let example = self.gaps.first().map(String::as_str).unwrap_or_default();
        if self.answers {
            say.mend(format!("add an arm: {} -> …", example.trim_start_matches("not ")));
        } else if let Some(over) = &self.over {
            say.mend(format!("let the next arm begin where the one below it ends: {over} -> …"));
        } else {
            say.mend(format!("add an arm, or widen one: {example} -> …"));
        }
    }
}
