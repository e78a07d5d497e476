//! LN202: one kind of quantity where another is wanted.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A torque where a length is wanted.
pub(crate) struct WrongKind {
    /// As its author wrote it.
    pub(crate) written: String,
    pub(crate) span: Span,
    /// What it is: `a torque`; several where its unit serves several.
    pub(crate) found: String,
    /// What is wanted: `a length`.
    pub(crate) wanted: String,
    /// Units that would fit.
    pub(crate) fitting: Vec<String>,
    /// Where a name stands for a point on a scale and its difference is wanted: as it would be declared.
    pub(crate) difference: Option<String>,
}

impl Finding for WrongKind {
    const PAGE: Page = page!("LN202", "ln202_wrong_kind.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} is {} where {} is wanted", self.written, self.found, self.wanted));
        say.label(self.span, format!("{} is wanted here", self.wanted));
        say.consequence(format!(
            "no sheet can say it: nobody can set or check {} by {}",
            self.wanted, self.written
        ));
        if let Some(difference) = &self.difference {
            say.mend(format!(
                "if a difference is meant, say so where it is declared: {difference}"
            ));
        }
        if self.fitting.is_empty() {
            say.mend(format!("write {}", self.wanted));
        } else {
            let units = super::super::names::listed(&self.fitting, "or");
            say.mend(format!("write {}, for example in {units}", self.wanted));
        }
    }
}
