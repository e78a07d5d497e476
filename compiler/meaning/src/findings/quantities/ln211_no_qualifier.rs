//! LN211: `gauge` or `absolute` beside something that is no pressure.

use locknut_finding::{Finding, Page, Report, Span, page};
use locknut_quantity::Units;

/// `5 mm gauge`.
pub(crate) struct NoQualifier {
    pub(crate) word: String,
    pub(crate) span: Span,
    /// The same without the word.
    pub(crate) without: String,
    pub(crate) whole: Span,
}

impl Finding for NoQualifier {
    const PAGE: Page = page!("LN211", "ln211_no_qualifier.md");

    fn show(&self, say: &mut Report) {
        let a = if self.word == Units::DIFFERENCE { "a " } else { "" };
        say.title(format!("{} cannot be {a}{}", self.without, self.word));
        say.label(
            self.span,
            if self.word == Units::DIFFERENCE {
                "only of temperatures and pressures a difference is another kind".to_owned()
            } else {
                format!("only a pressure is {}", self.word)
            },
        );
        say.mend_with(format!("write {}", self.without), self.whole, &self.without);
    }
}
