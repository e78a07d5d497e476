//! LN210: several figures where one is wanted, or the other way round.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A range, three figures or several points where a single value is wanted.
pub(crate) struct OneFigure {
    pub(crate) written: String,
    pub(crate) span: Span,
    /// What stands there: `a range`, `three figures`, `3 points`.
    pub(crate) found: String,
    /// What is wanted: `one figure`, `a range`.
    pub(crate) wanted: &'static str,
    pub(crate) mend: String,
}

impl OneFigure {
    /// A figure to tighten to that says only where it begins, or only where it ends.
    pub(crate) fn open_ended(written: &str, span: Span) -> Self {
        Self {
            written: written.to_owned(),
            span,
            found: "open at one end".to_owned(),
            wanted: "a figure to tighten to",
            mend: "say both ends, or the middle and the tolerance: to 22 ± 2 N·m".to_owned(),
        }
    }

    /// `50 % ± 3 %`: of the scale, or of the figure.
    pub(crate) fn percent_of_percent(by: &str, span: Span, points: &str, share: &str) -> Self {
        Self {
            written: format!("“{by}” of a figure that is in percent itself"),
            span,
            found: "two figures at once: so much of the scale, or such a part of the figure"
                .to_owned(),
            wanted: "one figure",
            mend: format!(
                "write {points}, where so much of the scale is meant, or {share}, where such a part of the figure is"
            ),
        }
    }

    /// How hard, beside a torque or an angle that says so too.
    pub(crate) fn beside(with: &str, span: Span, figure: &str) -> Self {
        Self {
            written: format!("“{with}”"),
            span,
            found: format!("a second figure beside {figure}"),
            wanted: "one figure",
            mend: format!(
                "leave “{with}” out, and {figure} says how tight; or take {figure} out, where a force is meant"
            ),
        }
    }
}

impl Finding for OneFigure {
    const PAGE: Page = page!("LN210", "ln210_one_figure.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} is {}, and {} is wanted", self.written, self.found, self.wanted));
        say.label(self.span, format!("{} is wanted here", self.wanted));
        say.mend(&self.mend);
    }
}
