//! LN325: the error is great beside what is accepted.

use super::Weighed;
use locknut_finding::{Finding, Page, Report, Severity, page};

/// A limit whose instrument has a poor capability ratio.
pub(crate) struct CoarseForLimit {
    pub(crate) of: Weighed,
    /// From which ratio on nothing is said, and from which it is good.
    pub(crate) fair: String,
    pub(crate) good: String,
}

impl Finding for CoarseForLimit {
    const PAGE: Page = page!("LN325", "ln325_coarse_for_limit.md");
    const SEVERITY: Severity = Severity::Warning;

    fn show(&self, say: &mut Report) {
        let Weighed { name, ratio, by_limit, .. } = &self.of;
        say.title(format!("{name} is judged at {ratio}, and near its limit that is a guess"));
        self.of.labels(say);
        say.consequence(
            "a machine that is out of its limits passes, and a sound one is taken apart",
        );
        say.note(format!(
            "the ratio is half of the accepted width to the greatest error of the value; under {} is poor, {} is good",
            self.fair, self.good
        ));
        self.of.note_other_side(say);
        if self.of.by_row {
            say.mend("look the row up again at its source");
        }
        say.mend(if *by_limit {
            "take what the limit hangs on with an instrument with a smaller error"
        } else {
            "name an instrument with a smaller error"
        });
        say.mend(
            "or say why it will do, ahead of the { of its line: despite LN325 because \"…\" {",
        );
    }
}
