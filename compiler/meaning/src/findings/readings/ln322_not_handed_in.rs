//! LN322: a subtask uses a reading that its caller has not taken.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A reading that a subtask uses is not one of its caller.
pub(crate) struct NotHandedIn {
    pub(crate) call: Span,
    pub(crate) used: Span,
    pub(crate) subtask: String,
    pub(crate) reading: String,
    pub(crate) near: Option<String>,
    /// It was read, and at these points; the subtask is done at another, or at all (none).
    pub(crate) elsewhere: Option<(Vec<String>, Option<String>)>,
}

impl Finding for NotHandedIn {
    const PAGE: Page = page!("LN322", "ln322_not_handed_in.md");

    fn show(&self, say: &mut Report) {
        if let Some((points, at)) = &self.elsewhere {
            let points = points.join(", ");
            let at = at
                .as_deref()
                .map_or_else(|| "all of them".to_owned(), |at| format!("the one at {at}"));
            say.title(format!(
                "{} is done to {at}, and uses {}, which was read at {points}",
                self.subtask, self.reading
            ));
            say.label(self.call, "called here");
            say.label(self.used, "used there");
            say.consequence("one is judged by what was read at another");
            say.mend(format!(
                "read {} in a line of the subtask; or call the subtask only at the point where it was read",
                self.reading
            ));
            return;
        }
        say.title(format!(
            "{} uses {}, and nobody has read it by then",
            self.subtask, self.reading
        ));
        say.label(self.call, "called here");
        say.label(self.used, "used there");
        say.consequence("the subtask decides by a figure that nobody has");
        let mend = match &self.near {
            Some(near) => {
                format!("did you mean {near}? Else take {} before the call", self.reading)
            }
            None => format!("take {} before the call", self.reading),
        };
        say.mend(mend);
    }
}
