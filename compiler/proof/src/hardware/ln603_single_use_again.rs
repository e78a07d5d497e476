//! LN603: a part that may be used once only goes back.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// How a part that may be used once only is used again.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Again {
    /// It was taken out, and goes back.
    Fitted,
    /// It was only slackened, and is tightened again.
    Slackened,
    /// It is tight, and is tightened further.
    Tight,
}

/// A part that may be used once only goes back.
pub(crate) struct SingleUseAgain {
    pub(crate) act: Span,
    pub(crate) part: String,
    pub(crate) verb_fix: String,
    pub(crate) how: Again,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for SingleUseAgain {
    const PAGE: Page = page!("LN603", "ln603_single_use_again.md");

    fn show(&self, say: &mut Report) {
        let before = match self.how {
            Again::Slackened => "tightened again here, after they were slackened",
            Again::Tight => "tightened again here, while they are tight",
            Again::Fitted => {
                say.title(format!("{}: what may be used once only goes back", self.part));
                say.label(self.act, "fitted again here");
                say.path(&self.path);
                say.consequence(
                    "what has been squeezed or stretched once leaks, slips or breaks the second time",
                );
                say.fallback(format!("take a new one: `renew {}`", self.verb_fix));
                return;
            }
        };
        say.title(format!("the old {} are tightened again, and may be used once only", self.part));
        say.label(self.act, before);
        say.path(&self.path);
        say.consequence(
            "a bolt that was stretched once is thinner and harder: the next time it breaks",
        );
        say.fallback(format!("take new ones: `remove {0}`, `renew {0}`", self.verb_fix));
    }
}
