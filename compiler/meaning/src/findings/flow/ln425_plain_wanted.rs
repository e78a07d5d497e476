//! LN425: something more than a plain word or state stands where only a plain one can.

use locknut_finding::{Finding, Page, Report, Span, page};

/// A condition, limit or word that says more than can be done here.
pub(crate) struct PlainWanted {
    span: Span,
    title: &'static str,
    label: &'static str,
    mend: &'static str,
}

impl PlainWanted {
    /// `makes` with an “or”, a time or a reading.
    pub(crate) fn makes(span: Span) -> Self {
        Self {
            span,
            title: "“makes” brings a declared state to one value, and does nothing else",
            label: "this cannot be brought about as it stands",
            mend: "write: makes STATE is VALUE; what is taken off, fitted or turned is said by its own act",
        }
    }

    /// `proves` with more than a state and its values.
    pub(crate) fn proves(span: Span) -> Self {
        Self {
            span,
            title: "a reading proves that a state has a value, and nothing else",
            label: "this cannot be proved by a reading",
            mend: "write: proves STATE is VALUE",
        }
    }

    /// `starts with` with more than states.
    pub(crate) fn starts(span: Span) -> Self {
        Self {
            span,
            title: "“starts with” says which values the machine has, and nothing else",
            label: "nobody could tell from this how the machine stands",
            mend: "write: starts with STATE is VALUE and STATE is VALUE",
        }
    }

    /// `leaves` with more than states.
    pub(crate) fn leaves(span: Span) -> Self {
        Self {
            span,
            title: "“leaves” says which values the machine is left with, and nothing else",
            label: "nobody could tell from this how the machine is left",
            mend: "write: leaves STATE is VALUE because \"…\"",
        }
    }

    /// `for` with something else than the variant.
    pub(crate) fn variant(span: Span) -> Self {
        Self {
            span,
            title: "“for” says which machines it is for: by series, or by serial number",
            label: "one line may speak of the series or of the serial number, and of nothing else",
            mend: "write a line for each: for series B or C, and: for serial from 2044",
        }
    }

    /// Several words before one arrow of a number.
    pub(crate) fn arm(span: Span) -> Self {
        Self {
            span,
            title: "an arm of a number is one limit",
            label: "two limits joined by “or” are no limit",
            mend: "write two arms",
        }
    }

    /// A limit before an arrow of an observation.
    pub(crate) fn answer(span: Span) -> Self {
        Self {
            span,
            title: "an arm of an observation is a word",
            label: "nobody observes a number",
            mend: "write a word, such as: dry -> go on; or “measure” what has a number",
        }
    }

    /// `guarded` behind an answer.
    pub(crate) fn answer_guarded(span: Span) -> Self {
        Self {
            span,
            title: "an answer has no edge that could be guarded",
            label: "nothing is read here that may be a little wrong",
            mend: "leave the word out; or “measure” what has a number",
        }
    }

    /// `undecided counts as outside` behind `as read`.
    pub(crate) fn never_undecided(span: Span) -> Self {
        Self {
            span,
            title: "a limit that is taken as read leaves no reading undecided",
            label: "so this never comes about",
            mend: "write: guarded, undecided counts as outside; or leave these words out",
        }
    }

    /// `usually` at a choice by several readings.
    pub(crate) fn usually(span: Span) -> Self {
        Self {
            span,
            title: "it is not clear which reading is usually so",
            label: "the result does not come from one reading",
            mend: "write “usually” where the reading is measured",
        }
    }

    /// A preference that is none.
    pub(crate) fn preference(span: Span) -> Self {
        Self {
            span,
            title: "one can prefer the smallest, the largest, the fewest pieces, or what comes nearest to a figure",
            label: "this is none of them",
            mend: "write: prefer largest; or: prefer nearest 0.20 mm",
        }
    }
}

impl Finding for PlainWanted {
    const PAGE: Page = page!("LN425", "ln425_plain_wanted.md");

    fn show(&self, say: &mut Report) {
        say.title(self.title);
        say.label(self.span, self.label);
        say.mend(self.mend);
    }
}
