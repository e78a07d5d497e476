//! LN301: a reading is taken, or a torque set, with nothing named to do it with.

use locknut_finding::{Finding, Page, Report, Span, page};

/// Nothing says with what.
pub(crate) struct NoInstrument {
    /// What is read or set: `gap`, `22 ± 2 N·m`.
    what: String,
    span: Span,
    sets: bool,
}

impl NoInstrument {
    /// A reading without an instrument.
    pub(crate) fn reads(name: &str, span: Span) -> Self {
        Self { what: name.to_owned(), span, sets: false }
    }

    /// A torque without a wrench.
    pub(crate) fn sets(torque: &str, span: Span) -> Self {
        Self { what: torque.to_owned(), span, sets: true }
    }
}

impl Finding for NoInstrument {
    const PAGE: Page = page!("LN301", "ln301_no_instrument.md");

    fn show(&self, say: &mut Report) {
        if self.sets {
            say.title(format!("nothing says with which wrench {} is set", self.what));
            say.label(self.span, "no torque wrench named here");
            say.consequence(
                "a torque by feel is off by a third and more, and nobody can tell afterwards",
            );
            say.mend("add: using TORQUE-WRENCH");
        } else {
            say.title(format!("nothing says with what {} is measured", self.what));
            say.label(self.span, "no instrument named here");
            say.consequence(
                "the workshop takes whatever gauge is at hand, and the limits cannot be held against it",
            );
            say.mend("add: using INSTRUMENT");
        }
    }
}
