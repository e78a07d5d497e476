//! LN657: a strength class that is not made in the size of the thread.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// A strength class that is not made in this size.
pub(crate) struct NotMade {
    pub(crate) thing: String,
    pub(crate) thread: String,
    pub(crate) class: String,
    pub(crate) span: Span,
    pub(crate) sizes: String,
    /// `metric threads`, where this is none.
    pub(crate) of_threads: Option<&'static str>,
    pub(crate) source: String,
}

impl Finding for NotMade {
    const PAGE: Page = page!("LN657", "ln657_not_made.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "there are no {} of {} in class {}",
            self.thing, self.thread, self.class
        ));
        let of = self.of_threads.map(|threads| format!("for {threads} "));
        let of = of.unwrap_or_default();
        say.label(self.span, format!("made {of}in {} ({})", self.sizes, self.source));
        say.consequence(
            "the stores deliver something else, and no figure of strength holds for it",
        );
        say.mend("read the mark on the head, and write that class");
    }
}
