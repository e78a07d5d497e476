//! LN117: points stand inside of points.

use locknut_finding::{Finding, Page, Report, Span, page};

/// Something with points of its own in an assembly that is placed at points.
pub(crate) struct PointsTwice {
    pub(crate) name: String,
    pub(crate) inner: Span,
    pub(crate) outer: Span,
}

impl Finding for PointsTwice {
    const PAGE: Page = page!("LN117", "ln117_points_twice.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} would stand at points inside of points", self.name));
        say.label(self.inner, "it has points of its own");
        say.label(self.outer, "and all of it is placed at points here");
        say.consequence("“at” names one point, and nobody could tell one of them from the next");
        say.mend("declare it once for each place, under a name of its own, and leave one of the two lists of points out");
    }
}
