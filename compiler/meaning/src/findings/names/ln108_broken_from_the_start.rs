//! LN108: a rule is broken while the machine stands as it normally does.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A `never` that the normal values already break.
pub(crate) struct BrokenFromTheStart {
    /// As the source says it.
    pub(crate) written: String,
    pub(crate) rule: Span,
    /// The normal values that break it, said, with where they are declared.
    pub(crate) normal: Vec<(String, Span)>,
}

impl Finding for BrokenFromTheStart {
    const PAGE: Page = page!("LN108", "ln108_broken_from_the_start.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("the machine breaks “never {}” as it normally stands", self.written));
        say.label(self.rule, "so no procedure could begin");
        for (said, span) in self.normal.iter().take(4) {
            say.label(*span, format!("normally {said}"));
        }
        say.note("a state's first value is how the machine normally stands; at the start nothing is proved and no time has been waited");
        say.mend("put the normal value first, or change the rule");
    }
}
