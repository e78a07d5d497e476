//! LN705: the job ends while somebody still holds something.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// The job ends with a hold that nothing has ended.
pub(crate) struct NeverLetGo {
    pub(crate) hold: Span,
    pub(crate) end: Span,
    pub(crate) who: String,
    pub(crate) thing: String,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for NeverLetGo {
    const PAGE: Page = page!("LN705", "ln705_never_let_go.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("the job can end while the {} still holds the {}", self.who, self.thing));
        say.label(self.hold, "the hold begins here");
        say.label(self.end, "and here the job is over");
        say.path(&self.path);
        say.consequence(format!(
            "the {} stands there and holds, or lets go when nobody looks",
            self.who
        ));
        say.mend("let the hold end at a step that comes on every way to this end");
    }
}
