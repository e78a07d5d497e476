//! LN512: the job may end where the machine is not safe to leave.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// The job may end where the machine is not safe to leave.
pub(crate) struct UnsafeStop {
    pub(crate) end: Span,
    pub(crate) rule: Span,
    /// Whether somebody said when it is safe to leave.
    pub(crate) said: bool,
    pub(crate) stands: String,
    pub(crate) since: Option<Span>,
    pub(crate) how: &'static str,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for UnsafeStop {
    const PAGE: Page = page!("LN512", "ln512_unsafe_stop.md");

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "the job may {} here, and it is not safe to leave: {}",
            self.how, self.stands
        ));
        say.label(self.end, "ends here");
        if let Some(since) = self.since {
            say.label(since, "like this since here");
        }
        if self.rule != self.end {
            let nobody = "nobody says when this may be left, so it is where all of it is normal";
            say.label(self.rule, if self.said { "safe to leave only so" } else { nobody });
        }
        say.path(&self.path);
        say.consequence("everybody goes away and the machine can hurt whoever comes next");
        if !self.said {
            say.mend("say of the machine how it may be left: safe to leave when …");
            return;
        }
        say.fallback(
            "put a block of acts before it that makes the machine safe: `otherwise { … } then …`",
        );
    }
}
