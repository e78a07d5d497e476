//! LN112: an element's act asks for something in a form that no element can.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A need in a vocabulary that is none of the forms it may have.
pub(crate) struct NeedOutOfForm {
    pub(crate) element: String,
    /// `the act put-on`, `the rule`.
    pub(crate) asks: String,
    pub(crate) span: Span,
}

impl Finding for NeedOutOfForm {
    const PAGE: Page = page!("LN112", "ln112_need_out_of_form.md");

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "what {} of {} asks for cannot be asked like this",
            self.asks, self.element
        ));
        say.label(self.span, "not a need that an element can have");
        say.note(
            "an element asks over a relation (“each fastens is in-place”), for a mark (“not single use”) \
             or for what the thing itself declares (“dead”); several are joined by “and”",
        );
        say.mend("write each need in one of these forms, joined by “and”");
    }
}
