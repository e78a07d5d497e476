//! LN356: words of a template have no room as they are printed in a language.

use locknut_finding::{Finding, Page, Report, Span, page};
use locknut_meaning::NoRoom;

/// A label that fits as its author wrote it, and not as it is printed.
pub(crate) struct TranslatedLabel {
    /// As said.
    pub(crate) template: String,
    pub(crate) language: String,
    /// What is printed.
    pub(crate) text: String,
    /// The line of the label.
    pub(crate) place: Span,
    /// None: nothing is printed at all.
    pub(crate) no_room: Option<NoRoom>,
}

impl Finding for TranslatedLabel {
    const PAGE: Page = page!("LN356", "ln356_translated_label.md");

    fn show(&self, say: &mut Report) {
        let Self { template, language, text, place, .. } = self;
        let Some(no_room) = &self.no_room else {
            say.title(format!("a label of the {template} says nothing in “{language}”"));
            say.label(*place, "nothing is printed here");
            say.consequence("what should be read there is missing, and nobody sees that it is");
            say.mend(format!("write its words in translations/{language}.yaml"));
            return;
        };
        say.title(format!("words of the {template} have no room in “{language}”"));
        let printed = format!("printed as “{text}”");
        match no_room {
            NoRoom::Beyond { need } => {
                say.label(*place, format!("{printed}; that needs about {need} across"));
            }
            NoRoom::Cut(cut) => {
                say.label(*place, printed);
                say.label(*cut, "cut through by this");
            }
            NoRoom::Words(other) => {
                say.label(*place, printed);
                say.label(*other, "over these words");
            }
        }
        say.consequence(
            "part of them is cut off or covered, and what is left can say something else",
        );
        say.mend(format!(
            "find shorter words (translations/{language}.yaml, or phrases/{language}.ftl for names), or give the label more room"
        ));
    }
}
