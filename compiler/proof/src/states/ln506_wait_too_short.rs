//! LN506: a hold-off time has not certainly passed.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// A hold-off time has not certainly passed.
pub(crate) struct WaitTooShort {
    pub(crate) act: Option<Span>,
    pub(crate) asked: Span,
    pub(crate) variable: String,
    pub(crate) value: String,
    pub(crate) waited: String,
    pub(crate) wanted: String,
    pub(crate) set_at: Option<Span>,
    pub(crate) because: Option<String>,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for WaitTooShort {
    const PAGE: Page = page!("LN506", "ln506_wait_too_short.md");

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "only {} have certainly passed since {} became {}, not {}",
            self.waited, self.variable, self.value, self.wanted
        ));
        match self.act {
            Some(act) => {
                say.label(act, format!("reached after waits of {}", self.waited));
                say.label(self.asked, format!("this asks for {}", self.wanted));
            }
            None => say.label(self.asked, format!("this asks for {}", self.wanted)),
        }
        if let Some(set_at) = self.set_at {
            say.label(set_at, format!("{} since here", self.value));
        }
        say.path(&self.path);
        if let Some(because) = &self.because {
            say.consequence(because);
        }
        say.fallback(format!("write `wait {}` between the two", self.wanted));
        say.note("what a step `takes` is an estimate and does not count");
    }
}
