//! LN702: work is given to somebody who holds something.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// Work is given to somebody whose hands are taken.
pub(crate) struct HandsTaken {
    pub(crate) act: Span,
    pub(crate) hold: Span,
    /// None: anybody could do it, and nobody has a hand free.
    pub(crate) who: Option<String>,
    pub(crate) thing: String,
    /// How many further acts ask for the same hands.
    pub(crate) more: usize,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for HandsTaken {
    const PAGE: Page = page!("LN702", "ln702_hands_taken.md");

    fn show(&self, say: &mut Report) {
        match &self.who {
            Some(who) => {
                say.title(format!("the {who} still holds the {}, and has work to do", self.thing));
            }
            None => say.title("nobody has a hand free for this"),
        }
        say.label(self.act, "two hands are needed here");
        say.label(self.hold, format!("the {} is held from here on", self.thing));
        say.path(&self.path);
        say.consequence(format!("the {} is let go, and falls or swings", self.thing));
        if self.more > 0 {
            say.note(format!(
                "the same hands are asked for elsewhere: {}",
                crate::words::places(self.more)
            ));
        }
        match &self.who {
            Some(_) => {
                say.mend("give this work to somebody else, or end the hold at an earlier step");
            }
            None => say.mend("take one more into the crew, or end a hold at an earlier step"),
        }
    }
}
