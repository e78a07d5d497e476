//! LN116: a line speaks of a point that a thing does not have.

use super::listed;
use locknut_finding::{Finding, Page, Report, Span, page};

/// A point that a thing or state does not stand at.
pub(crate) struct NoSuchPoint {
    pub(crate) thing: String,
    pub(crate) point: String,
    /// Where it stands; empty: it is one thing at one place.
    pub(crate) points: Vec<String>,
    pub(crate) span: Span,
}

impl Finding for NoSuchPoint {
    const PAGE: Page = page!("LN116", "ln116_no_such_point.md");

    fn show(&self, say: &mut Report) {
        let Self { thing, point, points, span } = self;
        if points.is_empty() {
            say.title(format!("{thing} has no point {point}: it is one thing at one place"));
            say.label(*span, "nobody can tell what is meant");
            say.consequence("the technician looks for a second one, or works on the wrong one");
            say.mend(format!(
                "leave “at {point}” out, or say in the model that {thing} stands at several points: add “at {point}, …” to its line"
            ));
            return;
        }
        let all = listed(points, "or");
        say.title(format!("{thing} stands at {}, and at no point {point}", listed(points, "and")));
        say.label(*span, format!("write {all}"));
        say.consequence(
            "the technician cannot tell which of them is meant, and may take the wrong one",
        );
        let near = crate::world::near::nearest(point, points.iter().map(String::as_str));
        match near {
            Some(near) => say.mend_with(format!("did you mean {near}?"), *span, &near),
            None => say.mend(format!("write {all}")),
        }
    }
}
