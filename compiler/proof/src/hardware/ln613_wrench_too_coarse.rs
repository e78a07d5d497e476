//! LN613: a wrench that cannot keep the tolerance of a figure.

use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// A wrench that cannot keep the tolerance of a figure.
pub(crate) struct WrenchTooCoarse {
    pub(crate) act: Span,
    pub(crate) figure: String,
    pub(crate) wrench: String,
    pub(crate) error: String,
    pub(crate) declared: Span,
    /// The steps that it is set in, where they and not its error are too great.
    pub(crate) step: Option<String>,
}

impl Finding for WrenchTooCoarse {
    const PAGE: Page = page!("LN613", "ln613_wrench_too_coarse.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!("the {} cannot keep {}", self.wrench, self.figure));
        say.label(self.act, "even set to the middle, it may end outside the tolerance");
        match &self.step {
            Some(step) => say.label(
                self.declared,
                format!("it is set in steps of {step}, so up to half a step beside what is meant"),
            ),
            None => say.label(self.declared, format!("error {}", self.error)),
        }
        say.consequence("the line asks for what nobody can do with this tool, and the fitter ticks it all the same");
        let finer =
            if self.step.is_some() { "is set in finer steps" } else { "has a smaller error" };
        say.mend(format!(
            "name a wrench that {finer}, or widen the tolerance to what the joint needs"
        ));
    }
}
