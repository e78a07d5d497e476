//! LN604: a sealed part is acted on.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A sealed part is acted on.
pub(crate) struct SealedTouched {
    pub(crate) act: Span,
    pub(crate) part: String,
    pub(crate) because: String,
    pub(crate) otherwise: Option<String>,
}

impl Finding for SealedTouched {
    const PAGE: Page = page!("LN604", "ln604_sealed_touched.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("the {} is sealed, and this line acts on it", self.part));
        say.label(self.act, "no procedure may do this");
        say.consequence(&self.because);
        match &self.otherwise {
            Some(otherwise) => {
                say.mend(format!("take this line out; where the seal is broken: {otherwise}"));
            }
            None => say.mend("take this line out"),
        }
    }
}
