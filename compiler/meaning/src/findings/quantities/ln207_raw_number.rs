//! LN207: a number with a unit stands in a text as plain words.

use locknut_finding::{Finding, Page, Report, Span, page};

/// `Hold it 10 mm clear.` instead of `Hold it {10 mm} clear.`
pub(crate) struct RawNumber {
    /// As it stands in the text: `8 to 12 mm`.
    pub(crate) written: String,
    pub(crate) span: Span,
    /// The same with its checked places: `{8 mm} to {12 mm}`; several where it may mean several things.
    pub(crate) checked: Vec<String>,
}

impl Finding for RawNumber {
    const PAGE: Page = page!("LN207", "ln207_raw_number.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} in this text is out of everyone's control", self.written));
        say.label(self.span, "plain words: neither checked nor converted");
        say.consequence(
            "a reader with other units gets it unconverted, and it stays when the figure changes",
        );
        for checked in &self.checked {
            let mend = format!("write {checked}, or the name of a value");
            say.mend_with(mend, self.span, checked);
        }
    }
}
