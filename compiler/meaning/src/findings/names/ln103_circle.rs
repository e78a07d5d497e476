//! LN103: declarations that lead back to themselves.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A circle of declarations, each of which needs the next.
pub(crate) struct Circle {
    /// How one leads to the next: `stands behind`, `is worked out from`.
    pub(crate) link: String,
    /// Names and places round the circle, each once.
    pub(crate) round: Vec<(String, Span)>,
    /// What it would do in the workshop.
    pub(crate) consequence: &'static str,
}

impl Finding for Circle {
    const PAGE: Page = page!("LN103", "ln103_circle.md");

    fn show(&self, say: &mut Report) {
        let Some((first, _)) = self.round.first() else { return };
        say.title(match self.round.len() {
            1 => format!("{first} {} itself", self.link),
            _ => format!("{first} {} itself in the end", self.link),
        });
        let next = self.round.iter().skip(1).map(|(name, _)| name).chain([first]);
        for ((name, span), next) in self.round.iter().zip(next).take(6) {
            say.label(*span, format!("{name} {} {next}", self.link));
        }
        if self.round.len() > 6 {
            say.note(format!("{} further lines belong to this circle", self.round.len() - 6));
        }
        say.consequence(self.consequence);
        say.mend("take one of these lines out");
    }
}
