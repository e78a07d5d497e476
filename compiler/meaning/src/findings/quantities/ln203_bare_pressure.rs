//! LN203: a pressure that does not say what it is measured from.

use super::super::names::listed;
use locknut_finding::{Finding, Page, Report, Span, page};

/// A value whose unit needs a word beside it: `2.5 bar` without `gauge` or `absolute`.
pub(crate) struct BarePressure {
    pub(crate) written: String,
    pub(crate) span: Span,
    /// The words it may say, the one that is wanted here first.
    pub(crate) words: Vec<String>,
}

impl Finding for BarePressure {
    const PAGE: Page = page!("LN203", "ln203_bare_pressure.md");

    fn show(&self, say: &mut Report) {
        let words = listed(&self.words, "or");
        say.title(format!("{} does not say whether it is {words}", self.written));
        say.label(self.span, format!("{words} is left open"));
        say.consequence("gauge and absolute pressure are one atmosphere apart");
        for word in &self.words {
            let whole = format!("{} {word}", self.written);
            say.mend_with(format!("write {whole}"), self.span, whole);
        }
    }
}
