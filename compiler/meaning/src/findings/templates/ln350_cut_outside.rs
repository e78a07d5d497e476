//! LN350: something of a template lies beyond its edge.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A cut or words that leave the outline.
pub(crate) struct CutOutside {
    /// As said.
    pub(crate) template: String,
    pub(crate) place: Span,
    /// Where the template is declared.
    pub(crate) outline: Span,
    pub(crate) outside: Outside,
}

/// How.
pub(crate) enum Outside {
    /// By so much.
    Beyond { by: String },
    /// It touches the edge.
    Touches,
    /// Words that need about so much.
    Words { need: String },
}

impl Finding for CutOutside {
    const PAGE: Page = page!("LN350", "ln350_cut_outside.md");

    fn show(&self, say: &mut Report) {
        let template = &self.template;
        let consequence = "whoever cuts it out cuts the edge away, and the piece no longer fits or shows what it should";
        match &self.outside {
            Outside::Beyond { by } => {
                say.title(format!("a cut goes {by} beyond the edge of the {template}"));
                say.label(self.place, format!("{by} too far out"));
                say.consequence(consequence);
                say.mend(
                    "move it in where there is room, else make it smaller or the outline larger",
                );
            }
            Outside::Touches => {
                say.title(format!("a cut touches the edge of the {template}"));
                say.label(self.place, "nothing is left between this and the edge");
                say.consequence(consequence);
                say.mend("move it in, or make the outline larger");
            }
            Outside::Words { need } => {
                say.title(format!("words stand beyond the edge of the {template}"));
                say.label(self.place, format!("they need about {need} across"));
                say.consequence("part of them is cut off, and what is left can say something else");
                say.mend("move them, shorten them, or divide them between two labels");
            }
        }
        say.label(self.outline, "this template");
    }
}
