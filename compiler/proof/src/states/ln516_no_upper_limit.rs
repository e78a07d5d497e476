//! LN516: nothing says for how long at most something has lasted.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// Nothing says for how long at most something has lasted.
pub(crate) struct NoUpperLimit {
    /// The act ahead of which, or after which, it is asked; none: at the start.
    pub(crate) at: Option<Span>,
    /// The test that asks for it.
    pub(crate) asked: Span,
    pub(crate) variable: String,
    pub(crate) value: String,
    pub(crate) limit: String,
    pub(crate) set_at: Option<Span>,
    pub(crate) because: Option<String>,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for NoUpperLimit {
    const PAGE: Page = page!("LN516", "ln516_no_upper_limit.md");

    fn show(&self, say: &mut Report) {
        let Self { variable, value, limit, .. } = self;
        say.title(format!("nobody knows that {variable} has been {value} for under {limit}"));
        say.label(self.asked, format!("this counts on under {limit}"));
        if let Some(at) = self.at {
            say.label(at, "any time may have passed by here");
        }
        if let Some(set_at) = self.set_at {
            say.label(set_at, format!("{value} since here"));
        }
        say.path(&self.path);
        match &self.because {
            Some(because) => say.consequence(because),
            None => say.consequence(
                "the telephone rings, the technician comes back after the time is up and goes on",
            ),
        }
        say.mend("let it be looked at instead of counted: a line such as `observe … \"Is it still …?\" { yes -> go on / no -> … }` ahead of the act, and a rule without “for under”");
        say.note("waits say how long it has been at least, what a step `takes` is an estimate; neither says how long at most");
    }
}
