//! LN354: a card answers a limit that its template does not show.

use locknut_finding::{Finding, Page, Report, Span, page};

/// An instrument that is cut from a template of which no two edges lie as far apart as its own limit.
pub(crate) struct CardApart {
    pub(crate) instrument: String,
    pub(crate) template: String,
    /// The limit that it answers, by its name; none: a figure that stands there.
    pub(crate) limit: Option<String>,
    /// As its author wrote it.
    pub(crate) written: String,
    pub(crate) place: Span,
    pub(crate) answers: Span,
    pub(crate) declared: Span,
    /// Some dimension changes with the limit.
    pub(crate) comes_from: bool,
    /// A notch of this width is a small one.
    pub(crate) narrow: bool,
    /// The limit is a length with one end, as a dimension must be.
    pub(crate) can_be_cut: bool,
}

impl Finding for CardApart {
    const PAGE: Page = page!("LN354", "ln354_card_apart.md");

    fn show(&self, say: &mut Report) {
        let Self { instrument, template, .. } = self;
        let what = if self.comes_from { "shows it" } else { "comes from it" };
        say.title(format!(
            "the {instrument} answers {}, and no dimension of the template {template} {what}",
            self.written
        ));
        say.label(self.place, "it is cut from this template");
        say.label(self.answers, "it answers this");
        if self.comes_from {
            say.label(
                self.declared,
                "its dimensions change with it, and no two of its edges lie so far apart",
            );
            say.consequence("the part is held against edges that are nearer together or farther apart than the limit, and worn parts pass as good");
        } else {
            say.label(self.declared, "none of these dimensions changes with it");
            say.consequence("once the limit is revised, the card still shows the old figure, and says yes to worn parts");
        }
        if !self.can_be_cut {
            say.mend("a card that is cut out answers a length with one end: “at most 8 mm” or “at least 8 mm”; for two ends cut two cards");
            return;
        }
        let Some(limit) = &self.limit else {
            say.mend("give the figure a name (limit NAME = …), and use that name here and in the template");
            return;
        };
        say.mend(if self.narrow {
            format!("cut a notch that is so wide, as in: notch bottom at 20 mm, width {limit}, depth 8 mm")
        } else {
            format!(
                "let two edges lie so far apart, as in: notch bottom at 10 mm, width 6 mm, depth 8 mm, and on a line of its own: notch bottom at 10 mm + {limit}, width 6 mm, depth 8 mm"
            )
        });
    }
}
