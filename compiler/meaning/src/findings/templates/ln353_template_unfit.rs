//! LN353: a template does not fit together.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A template that cannot be drawn.
pub(crate) struct TemplateUnfit {
    pub(crate) template: String,
    pub(crate) place: Span,
    pub(crate) fault: TemplateFault,
}

/// Why.
pub(crate) enum TemplateFault {
    NoOutline,
    /// A notch in a disc, which has no side.
    NoSide {
        outline: Span,
    },
    UnknownSide {
        side: String,
        sides: String,
    },
    /// A length of nothing or less.
    NoSize {
        written: String,
    },
    /// No number of holes.
    Count {
        written: String,
        most: u16,
    },
    /// A label without any sign.
    NoWords,
}

impl Finding for TemplateUnfit {
    const PAGE: Page = page!("LN353", "ln353_template_unfit.md");

    fn show(&self, say: &mut Report) {
        let (template, place) = (&self.template, self.place);
        match &self.fault {
            TemplateFault::NoOutline => {
                say.title(format!("{template} has no outline"));
                say.label(place, "how large is it?");
                say.consequence("there is nothing to cut out");
                say.mend("add a line: rectangle 280 mm x 30 mm, or disc 62 mm");
            }
            TemplateFault::NoSide { outline } => {
                say.title(format!("{template} is a disc, and a disc has no side for a notch"));
                say.label(place, "a side of what?");
                say.label(*outline, "the outline is round");
                say.consequence("nobody can tell where the notch is to be cut");
                say.mend("cut a hole, or take a rectangle");
            }
            TemplateFault::UnknownSide { side, sides } => {
                say.title(format!("“{side}” is no side of a rectangle"));
                say.label(place, format!("{sides} is wanted here"));
                say.consequence("nobody can tell where the notch is to be cut");
                say.mend("say from which side it is cut: notch bottom at 10 mm, …");
            }
            TemplateFault::NoSize { written } => {
                say.title(format!("{written} is no size of anything that can be cut"));
                say.label(place, "more than nothing is wanted here");
                say.consequence("there is nothing to cut out");
                say.mend("look the figure up again at its source");
            }
            TemplateFault::Count { written, most } => {
                say.title(format!("{written} is no number of holes for a pitch circle"));
                say.label(place, format!("a whole number from 2 to {most} is wanted here"));
                say.consequence("nobody can tell how the holes are spread");
                say.mend("write how many there are; a single hole is: hole 38 mm at 10 mm, 15 mm");
            }
            TemplateFault::NoWords => {
                say.title(format!("a label of {template} says nothing"));
                say.label(place, "no words stand here");
                say.consequence("what should be read there is missing, and nobody sees that it is");
                say.mend("write the words, or take the label out");
            }
        }
    }
}
