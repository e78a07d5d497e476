//! LN002: a brace that is not closed, or closes nothing.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A brace without its other.
pub(crate) enum UnclosedBrace {
    /// Never closed; by how far the lines are set in, not ahead of this line.
    NotClosed { opened: Span, before: Option<Span> },
    /// A block follows a line that opens none; `end` is where the brace belongs, with what stands there instead.
    NotOpened { line: Span, end: Span },
    /// Closes nothing.
    ClosesNothing { place: Span },
}

impl Finding for UnclosedBrace {
    const PAGE: Page = page!("LN002", "ln002_unclosed_brace.md");

    fn show(&self, say: &mut Report) {
        match self {
            Self::NotClosed { opened, before } => {
                say.title("a brace is opened here and never closed");
                say.label(*opened, "opened here");
                match before {
                    Some(before) => {
                        say.label(*before, "and not closed ahead of this line");
                        say.mend("write } ahead of that line, or where the block ends");
                    }
                    None => say.mend("close it with } where the block ends"),
                }
            }
            Self::NotOpened { line, end } => {
                say.title("a block follows this line, and nothing opens it");
                say.label(*line, "no { at its end");
                say.mend_with("write { at its end", *end, " {");
            }
            Self::ClosesNothing { place } => {
                say.title("a brace closes nothing");
                say.label(*place, "nothing is open here");
                say.mend("take it out, or open a block with { before it");
            }
        }
        say.consequence("it cannot be told which lines belong to which step");
    }
}
