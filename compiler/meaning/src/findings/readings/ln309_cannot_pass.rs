//! LN309: a limit that no reading meets.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A check that cannot pass.
pub(crate) struct CannotPass {
    pub(crate) name: String,
    pub(crate) limit: String,
    pub(crate) span: Span,
    /// All that the reading can come to.
    pub(crate) can_be: String,
    pub(crate) bounded_by: String,
    /// Two values that it can come to, and the limit lies between them.
    pub(crate) between: Option<(String, String)>,
    /// Its figures in the unit of what it judges, where it would decide something then.
    pub(crate) meant: Option<String>,
    /// All that a difference comes to the other way round, where some of it is accepted then.
    pub(crate) turned: Option<String>,
}

impl Finding for CannotPass {
    const PAGE: Page = page!("LN309", "ln309_cannot_pass.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} is never accepted", self.name));
        say.label(
            self.span,
            match &self.between {
                Some((below, above)) => format!("it comes to {below} or {above}, nothing between"),
                None => format!("it can only be {}, none of which is accepted", self.can_be),
            },
        );
        say.consequence("no machine gets past this line, however good it is");
        say.note(self.bounded_by.clone());
        if let Some(meant) = &self.meant {
            say.mend(format!("look the unit up again: {meant} would decide something"));
        }
        if let Some(turned) = &self.turned {
            say.mend(format!(
                "look which is taken from which: the other way round it comes to {turned}"
            ));
        }
        say.mend(if self.between.is_some() {
            format!(
                "let “{}” hold one of the two, or take the readings with a finer instrument",
                self.limit
            )
        } else {
            format!("look at “{}” again, or at what is expected", self.limit)
        });
    }
}
