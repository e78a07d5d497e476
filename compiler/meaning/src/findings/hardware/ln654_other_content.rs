//! LN654: another content than the machine is declared to have.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A fluid that is filled with something else, or with another amount.
pub(crate) struct OtherContent {
    pub(crate) thing: String,
    /// It is the amount that differs.
    pub(crate) of_amount: bool,
    /// It is added to what is there.
    pub(crate) tops_up: bool,
    pub(crate) filled: String,
    pub(crate) span: Span,
    pub(crate) declared: String,
    pub(crate) declared_at: Span,
}

impl Finding for OtherContent {
    const PAGE: Page = page!("LN654", "ln654_other_content.md");

    fn show(&self, say: &mut Report) {
        let what = if self.of_amount { "another amount" } else { "something else" };
        let more = self.of_amount && self.tops_up;
        say.title(if more {
            format!("{} is topped up by all that the machine takes", self.thing)
        } else {
            format!("{} is filled with {what} than the machine takes", self.thing)
        });
        say.label(self.span, format!("here {}", self.filled));
        say.label(self.declared_at, format!("the machine takes {}", self.declared));
        say.consequence(if self.of_amount {
            "too little leaves bearings and gears dry, too much foams and presses seals out"
        } else {
            "seals and gears that were made for one oil fail in another"
        });
        if more {
            say.mend("write how much may be missing at most, or leave the amount out");
            return;
        }
        let leave_out = if self.of_amount { "the amount" } else { "“with”" };
        say.mend(format!(
            "leave {leave_out} out, and the machine's is printed; or give the reason: because \"…\""
        ));
    }
}
