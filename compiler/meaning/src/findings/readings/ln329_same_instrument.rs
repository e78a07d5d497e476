//! LN329: a substitute with an instrument that stands there already.

use locknut_finding::{Finding, Page, Report, Span, page};

/// An instrument that a reading names twice.
pub(crate) struct SameInstrument {
    pub(crate) instrument: String,
    pub(crate) first: Span,
    pub(crate) again: Span,
}

impl Finding for SameInstrument {
    const PAGE: Page = page!("LN329", "ln329_same_instrument.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("the {} cannot stand in for itself", self.instrument));
        say.label(self.again, "named again");
        say.label(self.first, "this reading has it already");
        say.consequence(
            "the sheet asks which instrument is at hand, and the answer does not tell what was read",
        );
        say.mend("name another instrument, or take this substitute out");
    }
}
