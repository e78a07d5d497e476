//! LN610: a tightening figure that stretches the fastener for good.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A tightening figure that stretches the fastener for good.
pub(crate) struct FigureYields {
    pub(crate) at: Span,
    pub(crate) figure: String,
    pub(crate) thing: String,
    pub(crate) fastener: String,
    pub(crate) friction: String,
    pub(crate) stress: String,
    pub(crate) limit: String,
    /// The torque that brings them to nine tenths of their yield stress.
    pub(crate) bears: Option<String>,
}

impl Finding for FigureYields {
    const PAGE: Page = page!("LN610", "ln610_figure_yields.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("tightened to {}, the {} stretch for good", self.figure, self.thing));
        say.label(
            self.at,
            format!(
                "{}: at the middle of the friction, {}, the stress is {}, and they yield at {}",
                self.fastener, self.friction, self.stress, self.limit
            ),
        );
        say.consequence(
            "a bolt that yields under the wrench clamps less than it seems to, and breaks later under load",
        );
        say.mend("take the maker's figure for this thread, class and condition");
        if let Some(bears) = &self.bears {
            say.note(format!(
                "by the same sum {bears} bring them to nine tenths of their yield stress"
            ));
        }
    }
}
