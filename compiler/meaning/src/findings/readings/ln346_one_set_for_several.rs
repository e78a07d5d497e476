//! LN346: one choice is fitted in several places.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// Pieces that are chosen once go into several places, and nobody said whether each gets its own.
pub(crate) struct OneSetForSeveral {
    /// What is chosen.
    pub(crate) chosen: String,
    pub(crate) span: Span,
    /// Where it was fitted before, where that is another line.
    pub(crate) before: Option<Span>,
    /// `foot at left and foot at right`
    pub(crate) places: String,
    /// The thing that stands at all of these places, where it is one.
    pub(crate) thing: Option<String>,
}

impl Finding for OneSetForSeveral {
    const PAGE: Page = page!("LN346", "ln346_one_set_for_several.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        let chosen = &self.chosen;
        say.title(format!("{chosen} is chosen once, and fitted in {}", self.places));
        say.label(self.span, "there is one field for it, and one set in the list of parts");
        if let Some(before) = self.before {
            say.label(before, "it goes in here already");
        }
        say.consequence("one place goes without, or gets what was chosen for another");
        say.mend(match &self.thing {
            Some(thing) => format!(
                "choose for each place: at each place of {thing} {{ choose {chosen} … fit {thing} at place with {chosen} }}"
            ),
            None => "choose for each place, each under a name of its own".to_owned(),
        });
        say.mend("or, where one set serves them all, say so: despite LN346 because \"…\"");
    }
}
