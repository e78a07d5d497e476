//! LN001: a line that cannot be read.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A line that cannot be read.
pub(crate) struct UnreadableLine {
    pub(crate) place: Span,
    pub(crate) word: String,
    pub(crate) expected: String,
    pub(crate) meant: Option<(Span, String)>,
    /// The word is one that parts clauses, where a name is wanted.
    pub(crate) reserved: bool,
    /// What to write instead.
    pub(crate) mend: &'static str,
    /// A text stands in curly quotes, as word processors write them.
    pub(crate) curly: bool,
}

impl Finding for UnreadableLine {
    const PAGE: Page = page!("LN001", "ln001_unreadable_line.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("this line cannot be read from {} on", self.word));
        let wanted = if self.expected.is_empty() {
            "not understood".to_owned()
        } else {
            format!("here: {}", self.expected)
        };
        say.label(self.place, wanted);
        say.consequence(
            "a line that is not understood is not printed, and nobody does what it says",
        );
        if let Some((place, meant)) = &self.meant {
            say.mend_with(format!("did you mean “{meant}”"), *place, meant);
        } else if self.curly {
            say.mend("write texts in straight quotes: \"…\"");
        } else if self.reserved {
            say.mend(format!(
                "{} joins the parts of a line and cannot be a name; choose another word",
                self.word
            ));
        } else {
            say.mend(self.mend);
        }
    }
}
