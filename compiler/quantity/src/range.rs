//! Ranges of exact numbers, with open and closed ends.

use crate::Exact;

/// One end of a range.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bound {
    /// Where it lies.
    pub value: Exact,
    /// Whether the value itself belongs to the range.
    pub closed: bool,
}

/// A range; an end left out is unbounded.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Range {
    /// The least.
    pub lower: Option<Bound>,
    /// The greatest.
    pub upper: Option<Bound>,
}

impl Range {
    /// `lower ..= upper`.
    pub fn closed(lower: Exact, upper: Exact) -> Self {
        Self {
            lower: Some(Bound { value: lower, closed: true }),
            upper: Some(Bound { value: upper, closed: true }),
        }
    }

    /// Everything up to a value.
    pub fn up_to(value: Exact, closed: bool) -> Self {
        Self { lower: None, upper: Some(Bound { value, closed }) }
    }

    /// Everything from a value.
    pub fn from(value: Exact, closed: bool) -> Self {
        Self { lower: Some(Bound { value, closed }), upper: None }
    }

    /// Whether a value belongs to it.
    pub fn contains(&self, value: &Exact) -> bool {
        let above = self.lower.as_ref().is_none_or(|bound| {
            *value > bound.value || (bound.closed && *value == bound.value)
        });
        let below = self.upper.as_ref().is_none_or(|bound| {
            *value < bound.value || (bound.closed && *value == bound.value)
        });
        above && below
    }

    /// Whether no value belongs to it.
    pub fn is_empty(&self) -> bool {
        match (&self.lower, &self.upper) {
            (Some(lower), Some(upper)) => {
                lower.value > upper.value
                    || (lower.value == upper.value && !(lower.closed && upper.closed))
            }
            _ => false,
        }
    }

    /// What belongs to both.
    #[must_use]
    pub fn intersect(&self, other: &Self) -> Self {
        Self {
            lower: tighter(self.lower.as_ref(), other.lower.as_ref(), |a, b| a > b),
            upper: tighter(self.upper.as_ref(), other.upper.as_ref(), |a, b| a < b),
        }
    }

    /// Whether every value of `other` belongs to `self`.
    pub fn covers(&self, other: &Self) -> bool {
        other.is_empty() || self.intersect(other) == *other
    }
}

fn tighter(
    a: Option<&Bound>,
    b: Option<&Bound>,
    beats: impl Fn(&Exact, &Exact) -> bool,
) -> Option<Bound> {
    match (a, b) {
        (Some(a), Some(b)) if a.value == b.value => {
            Some(Bound { value: a.value.clone(), closed: a.closed && b.closed })
        }
        (Some(a), Some(b)) => Some(if beats(&a.value, &b.value) { a.clone() } else { b.clone() }),
        (one, other) => one.or(other).cloned(),
    }
}
