//! LN009: something at the margin that begins no declaration.

use crate::words::DECLARATIONS;
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
        if DECLARATIONS.contains(&self.word.as_str()) {
            say.title(format!("this {} cannot be read", self.word));
            say.label(self.place, "its head is not understood");
            say.consequence("nothing in this block is checked or printed");
            say.mend(format!("write: {}", form(&self.word)));
            return;
        }
        say.title(format!("nothing is declared by “{}”", self.word));
        say.label(self.place, "a declaration begins with model, procedure, instrument, …");
        say.consequence("nothing in this block is checked or printed");
        match &self.meant {
            Some(meant) => say.mend_with(format!("did you mean “{meant}”"), self.place, meant),
            None => say.mend("begin with model, instrument, tool, consumable, procedure, subtask, value or limit"),
        }
    }
}

/// What the head of a declaration looks like.
fn form(word: &str) -> &'static str {
    match word {
        "table" => "table NAME : KIND -> KIND { KEY -> FIGURE … }",
        "formula" => "formula NAME : KIND of FIGURE : KIND, … = SUM",
        "value" => "value NAME = FIGURE",
        "limit" => "limit NAME = at least 8 mm",
        "instrument" => "instrument NAME { measures KIND RANGE, … }",
        "template" => "template NAME { OUTLINE, CUTS … }",
        "unit" => "unit NAME : KIND = FIGURE",
        _ => {
            "its word, its NAME, and what belongs to it as the reference shows: grammar/reference.md"
        }
    }
}
