//! LN207: a number with a unit stands in a text as plain words.

use locknut_finding::{Finding, Page, Report, Span, page};

/// `Hold it 10 mm clear.` instead of `Hold it {10 mm} clear.`
pub(crate) struct RawNumber {
    /// As it stands in the text: `8 to 12 mm`.
    pub(crate) written: String,
    pub(crate) span: Span,
    /// The same with its checked places: `{8 mm} to {12 mm}`.
    pub(crate) checked: String,
}

impl Finding for RawNumber {
    const PAGE: Page = page!("LN207", "ln207_raw_number.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} in this text is out of everyone's control", self.written));
        say.label(self.span, "plain words: neither checked nor converted");
        say.consequence(
            "a reader with other units gets it unconverted, and it stays when the figure changes",
        );
        say.mend_with(
            format!("write {}, or the name of a value", self.checked),
            self.span,
            &self.checked,
        );
    }
}
