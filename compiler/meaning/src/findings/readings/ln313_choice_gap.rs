//! LN313: readings for which no size fits.

use super::in_vain::{accepted_in_vain, nobody_goes_on};
use crate::findings::names::listed;
use locknut_finding::{Finding, Page, Report, Span, page};

/// A choice that does not cover what it must.
pub(crate) struct ChoiceGap {
    pub(crate) name: String,
    /// `gap`, `the mean of gap`.
    pub(crate) of: String,
    pub(crate) gaps: Vec<String>,
    pub(crate) span: Span,
    /// Where its readings are taken, and its sizes declared.
    pub(crate) rests_on: Vec<Span>,
    /// Where they are accepted, and what is outside of it goes on, too.
    pub(crate) in_vain: Vec<Span>,
    /// Where the result must lie.
    pub(crate) range: String,
    /// So many may be stacked; none: one is taken.
    pub(crate) stacked: Option<usize>,
    /// Only what is usual must be covered: an `otherwise` stands there.
    pub(crate) usually: bool,
    /// Sizes that fit for no reading at all.
    pub(crate) idle: Vec<String>,
}

impl Finding for ChoiceGap {
    const PAGE: Page = page!("LN313", "ln313_choice_gap.md");

    fn show(&self, say: &mut Report) {
        let gaps = listed(&self.gaps, "and");
        self.rests_on.iter().for_each(|place| say.rests_on(*place));
        say.title(format!("no {} fits where {} is {gaps}", self.name, self.of));
        let what = self
            .stacked
            .map_or_else(|| "no size".to_owned(), |most| format!("no stack of up to {most}"));
        say.label(self.span, format!("{what} brings the result to {}", self.range));
        accepted_in_vain(&self.in_vain, say);
        say.consequence("the technician stands before the open machine with no part that fits");
        if self.usually {
            say.note("all of what is “usually” read must be covered");
        } else {
            say.note("without an “otherwise”, all of what may be read must be covered");
        }
        if !self.idle.is_empty() {
            let (sizes, fit) =
                (listed(&self.idle, "and"), if self.idle.len() == 1 { "fits" } else { "fit" });
            say.mend(format!("look up {sizes} again, which {fit} for no reading at all"));
        }
        // Beside an `otherwise` another one would help nobody.
        say.mend(if self.usually {
            "add a size that fills the gap, widen the result, or narrow what is said to be “usually” so"
        } else {
            "add a size that fills the gap, widen the result, or add: otherwise refer to \"…\""
        });
        nobody_goes_on(&self.in_vain, say);
    }
}
