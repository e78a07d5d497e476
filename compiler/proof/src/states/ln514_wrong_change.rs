//! LN514: a state is changed in a way that the model does not allow.

use locknut_finding::{Finding, Page, PathPoint, Report, Span, page};

/// A state comes to a value from another than its `change` lines say.
pub(crate) struct WrongChange {
    pub(crate) act: Span,
    pub(crate) rule: Span,
    pub(crate) state: String,
    /// What it must be before; empty where no line leads to this value.
    pub(crate) wanted: Option<String>,
    pub(crate) stands: String,
    pub(crate) path: Vec<PathPoint>,
}

impl Finding for WrongChange {
    const PAGE: Page = page!("LN514", "ln514_wrong_change.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("the {} does not change this way", self.state));
        say.label(self.act, "changed here");
        let stands = if self.stands.is_empty() {
            String::new()
        } else {
            format!("; it stands: {}", self.stands)
        };
        match &self.wanted {
            Some(wanted) => say.label(self.rule, format!("only when {wanted}{stands}")),
            None => say.label(self.rule, "these lines say how it changes, and none leads there"),
        }
        say.path(&self.path);
        say.consequence("the fitter does what the machine cannot do, or should not");
        match &self.wanted {
            Some(_) => say.fallback("bring it to that value first"),
            None => {
                say.mend("go by the changes that there are, or add a `change` line to the model");
            }
        }
    }
}
