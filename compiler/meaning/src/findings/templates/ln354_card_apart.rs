//! LN354: a card answers a limit that its template does not show.

use locknut_finding::{Finding, Page, Report, Span, page};

/// An instrument that is cut from a template in which its own limit is not named.
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
    /// The limit is a length with one end, as a dimension must be.
    pub(crate) can_be_cut: bool,
}

impl Finding for CardApart {
    const PAGE: Page = page!("LN354", "ln354_card_apart.md");

    fn show(&self, say: &mut Report) {
        let Self { instrument, template, .. } = self;
        say.title(format!(
            "the {instrument} answers {}, and no dimension of the template {template} comes from it",
            self.written
        ));
        say.label(self.place, "it is cut from this template");
        say.label(self.answers, "it answers this");
        say.label(self.declared, "none of these dimensions changes with it");
        say.consequence("once the limit is revised, the card still shows the old figure, and says yes to worn parts");
        if !self.can_be_cut {
            say.mend("a card that is cut out answers a length with one end: “at most 8 mm” or “at least 8 mm”; for two ends cut two cards");
            return;
        }
        say.mend(match &self.limit {
            Some(limit) => format!(
                "let the dimension that shows it name it, as in: notch bottom at 10 mm + {limit}, width 6 mm, depth 8 mm"
            ),
            None => "give the figure a name (limit NAME = …), and use that name here and in the template".to_owned(),
        });
    }
}
