//! LN005: a decimal comma.

use locknut_finding::{Edit, Finding, Page, Report, Span, page};

/// Decimal commas of one line.
pub(crate) struct DecimalComma {
    /// Each with what is written there.
    pub(crate) numbers: Vec<(Span, String)>,
}

impl Finding for DecimalComma {
    const PAGE: Page = page!("LN005", "ln005_decimal_comma.md");

    fn show(&self, say: &mut Report) {
        say.title("decimal point, please");
        let (mut pointed, mut edits) = (Vec::new(), Vec::new());
        for (place, written) in &self.numbers {
            let what =
                if pointed.is_empty() { "a comma parts the items of a list" } else { "here, too" };
            say.label(*place, what);
            let text = written.replace(',', ".");
            pointed.push(text.clone());
            edits.push(Edit { span: *place, text });
        }
        say.consequence("0,35 could be read as two numbers, 0 and 35");
        say.mend_with_all(format!("write {}", pointed.join(", ")), edits);
    }
}
