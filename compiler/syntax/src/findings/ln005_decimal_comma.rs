//! LN005: a decimal comma.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A decimal comma.
pub(crate) struct DecimalComma {
    pub(crate) place: Span,
    pub(crate) written: String,
}

impl Finding for DecimalComma {
    const PAGE: Page = page!("LN005", "ln005_decimal_comma.md");

    fn show(&self, say: &mut Report) {
        say.title("decimal point, please");
        say.label(self.place, "a comma parts the items of a list");
        say.consequence("0,35 could be read as two numbers, 0 and 35");
        let pointed = self.written.replace(',', ".");
        say.mend_with(format!("write {pointed}"), self.place, pointed);
    }
}
