//! LN320: more is usual than is expected at all.

use locknut_finding::{Finding, Page, Report, Span, page};

/// `usually` reaches outside of `expect`.
pub(crate) struct UsuallyOutside {
    pub(crate) usually: String,
    pub(crate) span: Span,
    pub(crate) expect: String,
    pub(crate) expect_span: Span,
    /// Whether it is worked out, and not read.
    pub(crate) worked_out: bool,
}

impl Finding for UsuallyOutside {
    const PAGE: Page = page!("LN320", "ln320_usually_outside.md");

    fn show(&self, say: &mut Report) {
        if self.worked_out {
            say.title(format!("“usually {}” reaches outside of what it can come to", self.usually));
            say.label(self.span, "said to be usual");
            say.label(self.expect_span, format!("this comes to {}", self.expect));
            say.consequence(
                "how often its limit misjudges would be told of machines that there are none of",
            );
            say.mend("narrow “usually”, or widen what is expected of the readings");
            return;
        }
        say.title(format!("“usually {}” reaches outside of what is taken at all", self.usually));
        say.label(self.span, "said to be usual");
        say.label(self.expect_span, format!("only {} is taken", self.expect));
        say.consequence("a usual reading would be refused, and the job would wait there");
        say.mend("widen “expect”, or narrow “usually”");
    }
}
