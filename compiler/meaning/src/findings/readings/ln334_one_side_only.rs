//! LN334: a substitute that tells one side of a limit, and nobody said so.

use locknut_finding::{Finding, Page, Report, Span, page};
use locknut_graph::Side;

/// A substitute's limit leaves a side of the line's limit open.
pub(crate) struct OneSideOnly {
    pub(crate) name: String,
    pub(crate) open: Vec<Side>,
    pub(crate) line: (String, Span),
    pub(crate) own: (String, Span),
}

impl Finding for OneSideOnly {
    const PAGE: Page = page!("LN334", "ln334_one_side_only.md");

    fn show(&self, say: &mut Report) {
        let open: Vec<&str> = self.open.iter().map(|side| side.word()).collect();
        let open = open.join(" or too ");
        say.title(format!("with this substitute nobody tells whether {} is too {open}", self.name));
        say.label(self.own.1, format!("{} says nothing of that", self.own.0));
        say.label(self.line.1, format!("the line accepts only {}", self.line.0));
        say.consequence(format!(
            "a workshop without the first instrument passes a machine on which it is too {open}, and believes that it was checked"
        ));
        let mend = match self.open.as_slice() {
            [Side::Low] => {
                "give it the other end, too; where the instrument cannot tell it, say so: add “, answers high only”, which the sheet and the record repeat"
            }
            [Side::High] => {
                "give it the other end, too; where the instrument cannot tell it, say so: add “, answers low only”, which the sheet and the record repeat"
            }
            _ => "give it a limit",
        };
        say.mend(mend);
    }
}
