//! LN332: a substitute accepts what its reading refuses.

use crate::findings::names::with_article;
use locknut_finding::{Finding, Page, Report, Span, page};
use locknut_graph::Side;

/// A substitute's limit lets through what the line's limit does not.
pub(crate) struct AcceptsMore {
    pub(crate) name: String,
    pub(crate) side: Side,
    pub(crate) line: (String, Span),
    pub(crate) own: (String, Span),
    /// The widest limit on the digits of the substitute that the line's limit covers.
    pub(crate) within: Option<String>,
}

impl Finding for AcceptsMore {
    const PAGE: Page = page!("LN332", "ln332_accepts_more.md");

    fn show(&self, say: &mut Report) {
        let (line, own) = (&self.line.0, &self.own.0);
        say.title(format!(
            "this substitute accepts {} that is too {}",
            with_article(&self.name),
            self.side.word()
        ));
        say.label(self.own.1, format!("{own} is accepted here"));
        say.label(self.line.1, format!("and {line} by the line that it stands in for"));
        say.consequence("whether a bad machine passes depends on what lies in the tool box");
        say.mend(match &self.within {
            Some(within) => format!(
                "write “{within}” here, or a narrower limit where the error of this instrument is greater"
            ),
            None => "take this substitute out, or name another: this instrument cannot keep a limit within that of its line".to_owned(),
        });
    }
}
