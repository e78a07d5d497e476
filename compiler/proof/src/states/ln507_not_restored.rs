//! LN507: a state is not back to normal at done.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// A state is not back to normal at done.
pub(crate) struct NotRestored {
    /// None: it was so from the start.
    pub(crate) written_at: Option<Span>,
    pub(crate) owed: Span,
    pub(crate) variable: String,
    pub(crate) stands: String,
    pub(crate) normal: String,
    pub(crate) name: String,
    pub(crate) value_name: String,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for NotRestored {
    const PAGE: Page = page!("LN507", "ln507_not_restored.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("the job is done and the {} is still {}", self.variable, self.stands));
        let owed = format!("it is owed back {}", self.normal);
        match self.written_at {
            Some(written_at) => {
                say.label(written_at, format!("{} since here", self.stands));
                say.label(self.owed, owed);
            }
            None => say.label(self.owed, format!("{} from the start; {owed}", self.stands)),
        }
        say.path(&self.path);
        say.consequence(
            "whoever takes over the machine believes that it stands as it normally does",
        );
        say.fallback(format!("bring it back to {} before the end", self.normal));
        say.mend(format!(
            "or, where it is meant, write `leaves {} is {} because \"…\"` at the head of the procedure",
            self.name, self.value_name
        ));
    }
}
