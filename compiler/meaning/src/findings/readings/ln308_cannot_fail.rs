//! LN308: a limit that every reading meets.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// A check that cannot fail.
pub(crate) struct CannotFail {
    pub(crate) name: String,
    pub(crate) limit: String,
    pub(crate) span: Span,
    /// All that the reading can come to.
    pub(crate) can_be: String,
    pub(crate) bounded_by: String,
    /// All that a difference comes to the other way round, where it can fail then.
    pub(crate) turned: Option<String>,
    /// Its figures in the unit of what it judges, where it would decide something then.
    pub(crate) meant: Option<String>,
}

impl Finding for CannotFail {
    const PAGE: Page = page!("LN308", "ln308_cannot_fail.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} is accepted whatever it is", self.name));
        say.label(self.span, format!("it can only be {}, all of which is accepted", self.can_be));
        say.consequence("the line looks like a check and finds nothing out");
        say.note(self.bounded_by.clone());
        if let Some(meant) = &self.meant {
            say.mend(format!("look the unit up again: {meant} would decide something"));
        }
        if let Some(turned) = &self.turned {
            say.mend(format!("look which is taken from which: the other way round it comes to {turned}, and can fail"));
        }
        say.mend(format!("narrow “{}”, widen what is expected, or take the limit out", self.limit));
    }
}

/// A guarded limit past whose guard bands nothing comes.
pub(crate) struct NeverRefused {
    pub(crate) name: String,
    pub(crate) span: Span,
    /// All that the reading can come to.
    pub(crate) can_be: String,
    pub(crate) bounded_by: String,
}

impl Finding for NeverRefused {
    const PAGE: Page = CannotFail::PAGE;
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!("{} is never refused", self.name));
        say.label(
            self.span,
            format!(
                "it can only be {}: some of that stays undecided, none is refused",
                self.can_be
            ),
        );
        say.consequence("what stands behind “otherwise” is never done; a bad machine waits for a better instrument");
        say.note(self.bounded_by.clone());
        say.mend(
            "expect more than the limit and its guard bands hold, where a bad machine shows it",
        );
        say.mend("or let the undecided count: accept … guarded, undecided counts as outside");
        say.mend(
            "or say why it will do, ahead of the { of its line: despite LN308 because \"…\" {",
        );
    }
}

/// Arms that all lead to the same.
pub(crate) struct DecidesNothing {
    pub(crate) name: String,
    /// The outcome of each arm.
    pub(crate) arms: Vec<Span>,
}

impl Finding for DecidesNothing {
    const PAGE: Page = CannotFail::PAGE;
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!("whatever {} is, the job goes on", self.name));
        for (at, arm) in self.arms.iter().enumerate() {
            say.label(*arm, if at == 0 { "this goes on" } else { "so does this" });
        }
        say.consequence("the line looks as if it decided something, and nothing follows from it");
        say.mend("write what is to be done at the arm that is bad, or take the arms out");
    }
}
