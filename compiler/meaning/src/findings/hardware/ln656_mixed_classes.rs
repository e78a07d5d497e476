//! LN656: two sets of one thread and different classes in one joint.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// Two sets of one thread and different classes in one joint.
pub(crate) struct MixedClasses {
    pub(crate) thing: String,
    pub(crate) class: String,
    pub(crate) span: Span,
    pub(crate) other: String,
    pub(crate) other_class: String,
    pub(crate) other_at: Span,
    pub(crate) thread: String,
    pub(crate) part: String,
}

impl Finding for MixedClasses {
    const PAGE: Page = page!("LN656", "ln656_mixed_classes.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!("the {} is held by {} of two classes", self.part, self.thread));
        say.label(self.span, format!("{}: {}", self.thing, self.class));
        say.label(self.other_at, format!("{}: {}", self.other, self.other_class));
        say.consequence(
            "the bolts look alike, and the weaker ones end up where the stronger belong",
        );
        say.mend("give all bolts of one thread in one joint the same class");
    }
}
