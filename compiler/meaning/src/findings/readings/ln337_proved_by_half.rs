//! LN337: a state is proved by a substitute that does not decide all that its reading decides.

use locknut_finding::{Finding, Page, Report, Span, page};
use locknut_graph::Side;

/// `proves` on a reading with a substitute that leaves something open.
pub(crate) struct ProvedByHalf {
    pub(crate) name: String,
    pub(crate) substitute: Span,
    pub(crate) proves: Span,
    /// Empty: it is read at other points.
    pub(crate) open: Vec<Side>,
}

impl Finding for ProvedByHalf {
    const PAGE: Page = page!("LN337", "ln337_proved_by_half.md");

    fn show(&self, say: &mut Report) {
        say.title("this substitute does not prove what its reading proves");
        let open: Vec<&str> = self.open.iter().map(|side| side.word()).collect();
        say.label(
            self.substitute,
            if open.is_empty() {
                "read at other points".to_owned()
            } else {
                format!("leaves open whether {} is too {}", self.name, open.join(" or too "))
            },
        );
        say.label(self.proves, "to be proved, whatever it is read with");
        say.consequence("a hand goes where half of a check says that it is safe");
        say.mend("take the substitute out, or one that decides all of it");
    }
}
