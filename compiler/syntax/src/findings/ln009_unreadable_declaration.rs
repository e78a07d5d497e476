//! LN009: something at the margin that begins no declaration.

use locknut_finding::{Finding, Page, Report, Span, page};

/// Something at the margin that begins no declaration.
pub(crate) struct UnreadableDeclaration {
    pub(crate) place: Span,
    pub(crate) word: String,
    pub(crate) meant: Option<String>,
}

impl Finding for UnreadableDeclaration {
    const PAGE: Page = page!("LN009", "ln009_unreadable_declaration.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("nothing is declared by “{}”", self.word));
        say.label(self.place, "a declaration begins with model, procedure, instrument, …");
        say.consequence("nothing in this block is checked or printed");
        match &self.meant {
            Some(meant) => say.mend_with(format!("did you mean “{meant}”"), self.place, meant),
            None => say.mend("begin with model, instrument, tool, consumable, procedure, subtask, value or limit"),
        }
    }
}
