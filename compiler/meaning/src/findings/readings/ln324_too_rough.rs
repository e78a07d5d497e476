//! LN324: the error is greater than half of what is accepted.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A limit that no reading of its instrument can be told to keep.
pub(crate) struct TooRough {
    pub(crate) of: Weighed,
    /// What the library asks for at least.
    pub(crate) least: String,
}

/// A limit against the error of what it judges.
pub(crate) struct Weighed {
    pub(crate) name: String,
    pub(crate) limit: String,
    pub(crate) span: Span,
    /// Of half of the accepted width to the error.
    pub(crate) ratio: String,
    pub(crate) half: String,
    pub(crate) error: String,
    /// Where its instrument is declared, and with what error; where a limit that moves may lie wrong, and by how much.
    pub(crate) from: Vec<(Span, String)>,
    /// Whether most of the error is that of the limit.
    pub(crate) by_limit: bool,
    /// Whether one row of a table alone makes it so narrow.
    pub(crate) by_row: bool,
    pub(crate) other: Option<OtherSide>,
}

impl Weighed {
    /// The two figures side by side, and where the error comes from.
    pub(super) fn labels(&self, say: &mut Report) {
        let Self { limit, ratio, half, error, .. } = self;
        let label =
            format!("half of what {limit} accepts is {half}, the error up to {error}: {ratio}");
        say.label(self.span, label);
        for (declared, error) in &self.from {
            say.label(*declared, error.clone());
        }
    }

    /// Where the width comes from, where only one end is written.
    pub(super) fn note_other_side(&self, say: &mut Report) {
        if let Some(other) = &self.other {
            say.note(other.note(&self.name, &self.limit));
        }
    }
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
    fn note(&self, name: &str, limit: &str) -> String {
        let which = if self.most { "greatest" } else { "least" };
        format!("the other side of “{limit}” is {}, the {which} that {name} can come to", self.end)
    }
}

impl Finding for TooRough {
    const PAGE: Page = page!("LN324", "ln324_too_rough.md");

    fn show(&self, say: &mut Report) {
        let Weighed { name, limit, by_limit, other, .. } = &self.of;
        say.title(format!("{name} is not known closely enough for {limit}"));
        self.of.labels(say);
        say.consequence(
            "every reading, the best one too, may belong to a machine that is out of its limits",
        );
        say.note(format!(
            "the ratio is half of the accepted width to the greatest error of the value; at least {} is asked for",
            self.least
        ));
        self.of.note_other_side(say);
        // No instrument tells apart what lies at one figure.
        let other = other.as_ref();
        let widens = other.is_some_and(|other| other.widens);
        if other.is_some_and(|other| other.nothing) {
            let wider = if widens { ", or widen what is expected" } else { "" };
            say.mend(format!("look at “{limit}” again{wider}"));
            return;
        }
        if widens {
            say.mend("widen what is expected, where more may come");
        }
        if self.of.by_row {
            say.mend("look the row up again at its source");
        }
        say.mend(if *by_limit {
            "take what the limit hangs on with an instrument with a smaller error, or take the limit from a source that allows more"
        } else {
            "name an instrument with a smaller error, or take the limit from a source that allows more"
        });
    }
}

/// A lower limit that lies nearer to nought, where the scale begins, than the error is great.
pub(crate) struct NeverSurelyBad {
    pub(crate) name: String,
    pub(crate) limit: String,
    pub(crate) span: Span,
    /// Where the scale begins.
    pub(crate) end: String,
    /// How far that is from the limit.
    pub(crate) left: String,
    pub(crate) error: String,
    pub(crate) declared: Span,
}

impl Finding for NeverSurelyBad {
    const PAGE: Page = TooRough::PAGE;

    fn show(&self, say: &mut Report) {
        let Self { name, limit, end, left, error, .. } = self;
        say.title(format!("{name} is not known closely enough to be refused by {limit}"));
        say.label(
            self.span,
            format!(
                "from there to {end}, where the scale begins, it is {left}, the error up to {error}"
            ),
        );
        say.label(self.declared, "with this");
        say.consequence("the worst machine may read as a good one, and passes");
        say.mend("name an instrument with a smaller error, or take the limit from a source that asks for more");
    }
}
