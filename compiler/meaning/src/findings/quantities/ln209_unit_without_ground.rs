//! LN209: a unit or kind that is told in something that does not carry it.

use locknut_finding::{Finding, Page, Report, Span, page};

/// Why a unit or kind of a vocabulary cannot be used.
pub(crate) struct UnitWithoutGround {
    /// `unit inch`, `kind temperature`.
    pub(crate) what: String,
    pub(crate) span: Span,
    /// In a few words: `it is told in itself`.
    pub(crate) why: String,
    pub(crate) near: Option<String>,
}

impl Finding for UnitWithoutGround {
    const PAGE: Page = page!("LN209", "ln209_unit_without_ground.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("nobody can tell how much the {} is", self.what));
        say.label(self.span, &self.why);
        if let Some(near) = &self.near {
            say.mend_with(format!("did you mean {near}?"), self.span, near);
        } else {
            say.mend("tell it in a unit of the same kind that leads to the kind's base unit");
        }
    }
}
