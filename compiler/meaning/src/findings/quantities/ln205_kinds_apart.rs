//! LN205: two kinds of quantity are added, subtracted or compared.

use locknut_finding::{Finding, Page, Report, Span, page};

/// Two values that have no common measure.
pub(crate) struct KindsApart {
    /// What is done with them: `added`, `compared`.
    pub(crate) done: &'static str,
    pub(crate) left: (String, Span),
    pub(crate) right: (String, Span),
    /// Where one is a gauge's own scale.
    pub(crate) own_scale: bool,
}

impl Finding for KindsApart {
    const PAGE: Page = page!("LN205", "ln205_kinds_apart.md");

    fn show(&self, say: &mut Report) {
        let (left, right) = (&self.left.0, &self.right.0);
        if left == right {
            say.title(format!("two of {left} cannot be {}", self.done));
        } else {
            say.title(format!("{left} and {right} cannot be {}", self.done));
        }
        say.label(self.right.1, format!("this is {right}"));
        say.label(self.left.1, format!("this is {left}"));
        if self.own_scale {
            say.note(
                "a reading on a gauge's own scale can be compared with nothing but that scale",
            );
        }
        say.mend("bring both to one kind of quantity");
    }
}
