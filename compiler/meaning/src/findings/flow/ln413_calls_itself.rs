//! LN413: a subtask that calls itself.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A circle of `do`.
pub(crate) struct CallsItself {
    pub(crate) call: Span,
    /// Who calls whom, from the one that is called again.
    pub(crate) circle: Vec<String>,
}

impl Finding for CallsItself {
    const PAGE: Page = page!("LN413", "ln413_calls_itself.md");

    fn show(&self, say: &mut Report) {
        let first = self.circle.first().map(String::as_str).unwrap_or_default();
        say.title(format!("{first} never comes to an end: it is done inside itself"));
        let mut round = self.circle.clone();
        round.push(first.to_owned());
        say.label(self.call, round.join(" → "));
        say.consequence("whoever follows the sheet begins again before they are through");
        say.mend("use a bounded “repeat” to do something again, or take this “do” out");
    }
}
