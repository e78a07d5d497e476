//! LN118: braces in a comment are not filled in.

use locknut_finding::{Finding, Findings, Page, Report, Span, page};

/// A place such as `{gap}` in the `///` lines ahead of something whose lines are printed.
pub(crate) struct BracesInComment {
    pub(crate) hole: String,
    pub(crate) name: String,
    pub(crate) place: Span,
}

impl BracesInComment {
    /// Says so of the first of them; on a sheet they would stand as they are written.
    pub(crate) fn told(doc: Option<&String>, name: &str, place: Span, found: &mut Findings) {
        let first = doc.and_then(|doc| hole(doc));
        if let Some(hole) = first {
            found.add(&Self { hole, name: name.to_owned(), place });
        }
    }
}

fn hole(doc: &str) -> Option<String> {
    let (_, from) = doc.split_once('{')?;
    let (inside, _) = from.split_once('}')?;
    Some(format!("{{{inside}}}"))
}

impl Finding for BracesInComment {
    const PAGE: Page = page!("LN118", "ln118_braces_in_comment.md");

    fn show(&self, say: &mut Report) {
        let Self { hole, name, .. } = self;
        say.title(format!("{hole} in the “///” lines of {name} is not filled in"));
        say.label(self.place, "its “///” lines are printed as they stand");
        say.consequence(format!(
            "the sheet says {hole}, braces and all, where a name or a figure is meant"
        ));
        say.mend("write the name in plain words there; what is filled in stands in a note or a step: note \"…\"");
    }
}
