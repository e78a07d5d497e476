//! LN338: limits of a reading and its substitute that nobody can compare.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A limit that is worked out on the job, and another one.
pub(crate) struct NoCommonLimit {
    pub(crate) line: Span,
    pub(crate) own: Span,
}

impl Finding for NoCommonLimit {
    const PAGE: Page = page!("LN338", "ln338_no_common_limit.md");

    fn show(&self, say: &mut Report) {
        say.title("whether this substitute accepts more than its line shows only on the job");
        say.label(self.own, "accepted by the substitute");
        say.label(self.line, "accepted by the line; one of them is worked out from readings");
        say.consequence("on some machines the substitute passes what the line refuses");
        say.mend("write the same limit in both, word for word");
    }
}
