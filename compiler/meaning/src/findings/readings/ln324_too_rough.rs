//! LN324: the error is greater than half of what is accepted.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A limit that no reading of its instrument can be told to keep.
pub(crate) struct TooRough {
    pub(crate) name: String,
    pub(crate) limit: String,
    pub(crate) span: Span,
    pub(crate) ratio: String,
    /// Half of the accepted width.
    pub(crate) half: String,
    pub(crate) error: String,
    /// What the library asks for at least.
    pub(crate) least: String,
    /// Where its instrument is declared, and with what error; where a limit that moves may lie wrong, and by how much.
    pub(crate) from: Vec<(Span, String)>,
    /// Whether most of the error is that of the limit.
    pub(crate) by_limit: bool,
    pub(crate) other: Option<OtherSide>,
}

/// The side of a limit with one end that is not written.
pub(crate) struct OtherSide {
    /// Where it lies.
    pub(crate) end: String,
    /// Whether that is the most that may come, and not the least.
    pub(crate) most: bool,
    /// Whether nothing lies between the two sides.
    pub(crate) nothing: bool,
    /// Whether the instrument shows so much more that expecting it would be enough.
    pub(crate) widens: bool,
}

impl OtherSide {
    /// Where the width comes from.
    pub(super) fn note(&self, name: &str, limit: &str) -> String {
        let which = if self.most { "greatest" } else { "least" };
        format!("the other side of “{limit}” is {}, the {which} that {name} can come to", self.end)
    }
}

impl Finding for TooRough {
    const PAGE: Page = page!("LN324", "ln324_too_rough.md");

    fn show(&self, say: &mut Report) {
        say.title(format!("{} is not known closely enough for {}", self.name, self.limit));
        let (half, error) = (&self.half, &self.error);
        let label = format!(
            "half of the width of {} is {half}, the error up to {error}: {}",
            self.limit, self.ratio
        );
        say.label(self.span, label);
        for (declared, error) in &self.from {
            say.label(*declared, error.clone());
        }
        say.consequence(
            "every reading, the best one too, may belong to a machine that is out of its limits",
        );
        say.note(format!(
            "the ratio is half of the accepted width to the greatest error of the value; at least {} is asked for",
            self.least
        ));
        let other = self.other.as_ref();
        if let Some(other) = other {
            say.note(other.note(&self.name, &self.limit));
        }
        // No instrument tells apart what lies at one figure.
        let widens = other.is_some_and(|other| other.widens);
        if other.is_some_and(|other| other.nothing) {
            let wider = if widens { ", or widen what is expected" } else { "" };
            say.mend(format!("look at “{}” again{wider}", self.limit));
            return;
        }
        if widens {
            say.mend("widen what is expected, where more may come");
        }
        say.mend(if self.by_limit {
            "take what the limit hangs on with an instrument with a smaller error, or take the limit from a source that allows more"
        } else {
            "name an instrument with a smaller error, or take the limit from a source that allows more"
        });
    }
}
