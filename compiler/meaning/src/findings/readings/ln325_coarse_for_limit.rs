//! LN325: the error is great beside what is accepted.

use super::OtherSide;
use locknut_finding::{Finding, Page, Report, Severity, Span, page};

/// A limit whose instrument has a poor capability ratio.
pub(crate) struct CoarseForLimit {
    pub(crate) name: String,
    pub(crate) limit: String,
    pub(crate) span: Span,
    pub(crate) ratio: String,
    /// Half of the accepted width.
    pub(crate) half: String,
    pub(crate) error: String,
    /// From which ratio on nothing is said, and from which it is good.
    pub(crate) fair: String,
    pub(crate) good: String,
    /// Where its instrument is declared, and with what error; where a limit that moves may lie wrong, and by how much.
    pub(crate) from: Vec<(Span, String)>,
    /// Whether most of the error is that of the limit.
    pub(crate) by_limit: bool,
    pub(crate) other: Option<OtherSide>,
}

impl Finding for CoarseForLimit {
    const PAGE: Page = page!("LN325", "ln325_coarse_for_limit.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        say.title(format!(
            "{} is judged at {}, and near its limit that is a guess",
            self.name, self.ratio
        ));
        let (half, error) = (&self.half, &self.error);
        let label =
            format!("half of the width of {} is {half}, the error up to {error}", self.limit);
        say.label(self.span, label);
        for (declared, error) in &self.from {
            say.label(*declared, error.clone());
        }
        say.consequence(
            "a machine that is out of its limits passes, and a sound one is taken apart",
        );
        say.note(format!(
            "the ratio is half of the accepted width to the greatest error of the value; under {} is poor, {} is good",
            self.fair, self.good
        ));
        if let Some(other) = &self.other {
            say.note(other.note(&self.name, &self.limit));
        }
        say.mend(if self.by_limit {
            "take what the limit hangs on with an instrument with a smaller error"
        } else {
            "name an instrument with a smaller error"
        });
        say.mend(
            "or say why it will do, ahead of the { of its line: despite LN325 because \"…\" {",
        );
    }
}
