//! LN502: an interlock of the model is broken on some path.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// The block that leaves open what is done first.
pub(crate) enum Beside {
    /// `together`
    Lanes(Span),
    /// `any order`
    Freed(Span),
}

impl Beside {
    /// The words that the block begins with.
    fn words(&self) -> Span {
        let (block, words) = match self {
            Self::Lanes(block) => (block, "together"),
            Self::Freed(block) => (block, "any order"),
        };
        let long = u32::try_from(words.len()).unwrap_or_default();
        Span { end: block.start.saturating_add(long).min(block.end), ..*block }
    }
}

/// An interlock of the model is broken on some path.
pub(crate) struct BrokenInterlock {
    pub(crate) act: Option<Span>,
    pub(crate) interlock: Span,
    pub(crate) written: String,
    pub(crate) because: String,
    pub(crate) stands: String,
    /// Where it is said that nobody knows at the start how a state of the rule stands.
    pub(crate) unknown: Option<Span>,
    /// The block in which it comes of what is done first.
    pub(crate) beside: Option<Beside>,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for BrokenInterlock {
    const PAGE: Page = page!("LN502", "ln502_broken_interlock.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("what must never be comes to be here: {}", self.written));
        if let Some(act) = self.act {
            say.label(act, format!("after this: {}", self.stands));
            say.label(self.interlock, "this must never be");
        } else {
            if let Some(unknown) = self.unknown {
                say.label(unknown, "nobody knows how this stands: it may be so from the start");
            }
            let at_first = format!("it is so before the first step: {}", self.stands);
            say.label(self.interlock, at_first);
        }
        match &self.beside {
            Some(beside @ Beside::Lanes(_)) => {
                say.label(beside.words(), "here each may be ahead of the other");
            }
            Some(beside @ Beside::Freed(_)) => {
                say.label(beside.words(), "here what is done first is left open");
            }
            None => {}
        }
        say.path(&self.path);
        say.consequence(&self.because);
        say.fallback(match self.beside {
            Some(Beside::Lanes(_)) => {
                "take one of the two out of the `together` block: put it ahead of the block, or behind it"
            }
            Some(Beside::Freed(_)) => {
                "take one of the two out of `any order`: put it behind what makes it safe, or undo what one leaves before the other begins"
            }
            None => "bring the machine to a safe state before this line, or move the line",
        });
    }
}
