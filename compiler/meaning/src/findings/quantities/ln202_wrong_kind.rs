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
    /// Where it is a point on a scale and its difference is wanted: how that is written.
    pub(crate) difference: Option<Meant>,
}

/// Where the difference of a point on a scale would be written.
pub(crate) enum Meant {
    /// In the place of the figure.
    Here(String),
    /// With the name that stands there.
    Declared(String),
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
        match &self.difference {
            Some(Meant::Here(difference)) => {
                let mend = format!("if a difference is meant, write {difference}");
                say.mend_with(mend, self.span, difference);
                return say.mend(format!(
                    "if the value itself is meant, work out {}, and no difference",
                    self.found
                ));
            }
            Some(Meant::Declared(difference)) => say.mend(format!(
                "if a difference is meant, say so where it is declared: {difference}"
            )),
            None => {}
        }
        if self.fitting.is_empty() {
            say.mend(format!("write {}", self.wanted));
        } else {
            let units = super::super::names::listed(&self.fitting, "or");
            say.mend(format!("write {}, for example in {units}", self.wanted));
        }
    }
}
