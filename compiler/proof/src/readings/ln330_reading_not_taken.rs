//! LN330: a reading is used that some path has not taken.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// A reading is used that some path has not taken.
pub(crate) struct ReadingNotTaken {
    pub(crate) used: Span,
    pub(crate) reading: String,
    pub(crate) taken: Span,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for ReadingNotTaken {
    const PAGE: Page = page!("LN330", "ln330_reading_not_taken.md");

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "the {} is used here, and on one path nobody has taken it",
            self.reading
        ));
        say.label(self.used, "used here");
        say.label(self.taken, "taken here");
        say.path(&self.path);
        say.consequence("there is no figure to go by, and the fitter makes one up");
        say.mend("take the reading on every path before this line, or move this line into the arm that has it");
    }
}
