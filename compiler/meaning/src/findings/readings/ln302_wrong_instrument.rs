//! LN302: an instrument that cannot do what the line wants of it.

use locknut_finding::{Finding, Page, Report, Span, page};

/// An instrument of another sort than the line wants.
pub(crate) struct WrongInstrument {
    pub(crate) instrument: String,
    pub(crate) span: Span,
    pub(crate) declared: Span,
    /// What it is: `set to torque, and shows none`.
    pub(crate) is: String,
    /// `an instrument that measures`.
    pub(crate) wanted: String,
}

impl Finding for WrongInstrument {
    const PAGE: Page = page!("LN302", "ln302_wrong_instrument.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} cannot be used here: it is {}", self.instrument, self.is));
        say.label(self.span, format!("this line wants {}", self.wanted));
        if self.declared != self.span {
            say.label(self.declared, "declared here");
        }
        say.mend(format!("name {}", self.wanted));
    }
}
