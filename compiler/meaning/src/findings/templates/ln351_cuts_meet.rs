//! LN351: two things of a template meet.

use locknut_finding::{Finding, Page, Report, Span, page};

/// Cuts that run into one another, or into words.
pub(crate) struct CutsMeet {
    /// As said.
    pub(crate) template: String,
    pub(crate) place: Span,
    pub(crate) meeting: Meeting,
}

/// What meets.
pub(crate) enum Meeting {
    /// With the cut of another line.
    Other(Span),
    /// The holes of one line.
    OneLine,
    /// Words, with a cut.
    Words(Span),
    /// Words, with other words.
    OtherWords(Span),
}

impl Finding for CutsMeet {
    const PAGE: Page = page!("LN351", "ln351_cuts_meet.md");

    fn show(&self, say: &mut Report) {
        let template = &self.template;
        match &self.meeting {
            Meeting::Other(other) => {
                say.title(format!("two cuts of the {template} run into one another"));
                say.label(self.place, "this cut");
                say.label(*other, "and this one");
                say.consequence("they become one: a gasket leaks there, a card falls apart");
                say.mend("move them apart, make them smaller, or take one of them out");
            }
            Meeting::OneLine => {
                say.title(format!("the holes of the {template} run into one another"));
                say.label(self.place, "these holes stand too close");
                say.consequence("they become one ring, and what is inside of it falls out");
                say.mend("take fewer or smaller holes, or a larger pitch circle");
            }
            Meeting::Words(cut) => {
                say.title(format!("words of the {template} stand where something is cut out"));
                say.label(self.place, "these words");
                say.label(*cut, "are cut through by this");
                say.consequence("part of them falls out with the cut");
                say.mend("move them, shorten them, or divide them between two labels");
            }
            Meeting::OtherWords(other) => {
                say.title(format!("two labels of the {template} are printed over one another"));
                say.label(self.place, "these words");
                say.label(*other, "stand where these do");
                say.consequence(
                    "nobody can read either, and one guess is “worn”, the other “good”",
                );
                say.mend("move one of them: words are 3.5 mm high");
            }
        }
    }
}
