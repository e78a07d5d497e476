//! LN203: a pressure that does not say what it is measured from.

use super::super::names::listed;
use super::ln206_kinds_multiplied::by_formula;
use locknut_finding::{Finding, Page, Report, Span, page};

/// A value whose unit needs a word beside it: `2.5 bar` without `gauge` or `absolute`.
pub(crate) struct BarePressure {
    pub(crate) written: String,
    pub(crate) span: Span,
    /// The words it may say, the one that is wanted here first.
    pub(crate) words: Vec<String>,
    /// Where it is multiplied or divided: then only a difference can be meant.
    pub(crate) product: Option<InProduct>,
}

/// What a figure without its word is multiplied with.
pub(crate) struct InProduct {
    /// `a length multiplied by a pressure difference`
    pub(crate) product: String,
    /// Whether one of the two is a plain number: then it stays what it is.
    pub(crate) plain: bool,
    /// The kinds that it may be by its dimension.
    pub(crate) gives: Vec<String>,
}

impl Finding for BarePressure {
    const PAGE: Page = page!("LN203", "ln203_bare_pressure.md");

    fn show(&self, say: &mut Report) {
        if let Some(within) = &self.product {
            return self.in_product(within, say);
        }
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

impl BarePressure {
    fn in_product(&self, within: &InProduct, say: &mut Report) {
        say.title(format!("{} does not say what it is measured from", self.written));
        say.label(self.span, format!("{}: that alone can be worked out", within.product));
        say.consequence("gauge and absolute pressure are one atmosphere apart, and so would be what comes out, many times over");
        for word in &self.words {
            let whole = format!("{} {word}", self.written);
            say.mend_with(format!("write {whole}"), self.span, whole);
        }
        if !within.plain {
            say.mend(by_formula(&within.gives));
        }
    }
}
