//! Ranges of exact numbers, with open and closed ends.

use crate::Exact;
use num_traits::Signed;

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

/// How a range is written.
impl Range {
    /// `lower .. upper`: both ends belong.
    pub fn closed(lower: Exact, upper: Exact) -> Self {
        Self {
            lower: Some(Bound { value: lower, closed: true }),
            upper: Some(Bound { value: upper, closed: true }),
        }
    }

    /// Everything up to a value: `at most 5` (closed), `under 5` (open).
    pub fn up_to(value: Exact, closed: bool) -> Self {
        Self { lower: None, upper: Some(Bound { value, closed }) }
    }

    /// Everything from a value: `at least 5` (closed), `over 5` (open).
    pub fn from(value: Exact, closed: bool) -> Self {
        Self { lower: Some(Bound { value, closed }), upper: None }
    }

    /// `22 ± 2`; none where the tolerance is below zero. For a point on a scale (20 ± 2 °C) the
    /// tolerance is a *difference*, which knows no zero.
    pub fn plus_minus(middle: &Exact, by: &Exact) -> Option<Self> {
        Self::plus_and_minus(middle, by, &-by)
    }

    /// `22 ± 5 %`: percent of the middle, whatever its sign; none where the percent is below zero.
    ///
    /// Of exactly zero every percentage is nothing: `0 ± 5 %` is the single value 0
    /// ([`single`](Self::single)), which an author never means.
    pub fn plus_minus_percent(middle: &Exact, percent: &Exact) -> Option<Self> {
        let by = middle.abs() * percent / Exact::from_integer(100.into());
        if percent.is_negative() { None } else { Self::plus_minus(middle, &by) }
    }

    /// `20 +0.1/-0.2`: the deviations carry their signs (both may lie on one side, as in
    /// `20 +0.3/+0.1`); none where the upper one is below the lower.
    pub fn plus_and_minus(nominal: &Exact, above: &Exact, below: &Exact) -> Option<Self> {
        if below > above {
            return None;
        }
        Some(Self::closed(nominal + below, nominal + above))
    }
}

/// What is asked of a range.
impl Range {
    /// Whether a value belongs to it.
    pub fn contains(&self, value: &Exact) -> bool {
        let above = self
            .lower
            .as_ref()
            .is_none_or(|bound| *value > bound.value || (bound.closed && *value == bound.value));
        let below = self
            .upper
            .as_ref()
            .is_none_or(|bound| *value < bound.value || (bound.closed && *value == bound.value));
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

    /// The value, where only one belongs to it: a figure to set, not a band.
    pub fn single(&self) -> Option<&Exact> {
        match (&self.lower, &self.upper) {
            (Some(lower), Some(upper)) if lower == upper && lower.closed => Some(&lower.value),
            _ => None,
        }
    }

    /// The values at its ends; none for an end that is missing.
    pub fn ends(&self) -> Vec<&Exact> {
        self.lower.iter().chain(&self.upper).map(|bound| &bound.value).collect()
    }

    /// Whether this range ends where another begins, so that no value lies between them or in both.
    pub fn meets(&self, next: &Self) -> bool {
        let (Some(upper), Some(lower)) = (&self.upper, &next.lower) else { return false };
        upper.value == lower.value && upper.closed != lower.closed
    }

    /// From end to end; none where an end is missing. Below zero for a range that is turned round.
    pub fn width(&self) -> Option<Exact> {
        Some(&self.upper.as_ref()?.value - &self.lower.as_ref()?.value)
    }

    /// What belongs to both.
    #[must_use]
    pub fn intersect(&self, other: &Self) -> Self {
        Self {
            lower: tighter(self.lower.as_ref(), other.lower.as_ref(), |a, b| a > b),
            upper: tighter(self.upper.as_ref(), other.upper.as_ref(), |a, b| a < b),
        }
    }

    /// From the least of both to the greatest, with what lies between.
    #[must_use]
    pub fn hull(&self, other: &Self) -> Self {
        let end = |a: Option<&Bound>, b: Option<&Bound>, further: fn(&Exact, &Exact) -> bool| {
            let (a, b) = (a?, b?);
            let closed = if a.value == b.value {
                a.closed || b.closed
            } else if further(&a.value, &b.value) {
                a.closed
            } else {
                b.closed
            };
            let value = if further(&a.value, &b.value) { &a.value } else { &b.value };
            Some(Bound { value: value.clone(), closed })
        };
        Self {
            lower: end(self.lower.as_ref(), other.lower.as_ref(), |a, b| a < b),
            upper: end(self.upper.as_ref(), other.upper.as_ref(), |a, b| a > b),
        }
    }

    /// Whether every value of `other` belongs to `self`.
    pub fn covers(&self, other: &Self) -> bool {
        other.is_empty() || self.intersect(other) == *other
    }

    /// The same kind of range with other values at its ends; an end that is none here stays none.
    #[must_use]
    pub(crate) fn with_ends(&self, lower: Option<Exact>, upper: Option<Exact>) -> Self {
        let end = |bound: &Option<Bound>, value: Option<Exact>| {
            bound.as_ref().zip(value).map(|(bound, value)| Bound { value, closed: bound.closed })
        };
        Self { lower: end(&self.lower, lower), upper: end(&self.upper, upper) }
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

#[cfg(test)]
mod tests {
    use super::Range;
    use crate::{Exact, parse_exact};

    fn number(text: &str) -> Exact {
        parse_exact(text).unwrap()
    }

    fn closed(lower: &str, upper: &str) -> Range {
        Range::closed(number(lower), number(upper))
    }

    #[test]
    fn tolerances_in_every_form() {
        let (nominal, two) = (number("22"), number("2"));
        assert_eq!(Range::plus_minus(&nominal, &two), Some(closed("20", "24")));
        assert_eq!(Range::plus_minus_percent(&nominal, &two), Some(closed("21.56", "22.44")));
        assert_eq!(
            Range::plus_and_minus(&number("20"), &number("0.1"), &number("-0.2")),
            Some(closed("19.8", "20.1"))
        );
        assert_eq!(
            Range::plus_and_minus(&number("20"), &number("0.3"), &number("0.1")),
            Some(closed("20.1", "20.3"))
        );
    }

    #[test]
    fn a_percentage_is_of_the_size_of_a_value_below_zero() {
        let range = Range::plus_minus_percent(&number("-40"), &number("5"));
        assert_eq!(range, Some(closed("-42", "-38")));
    }

    #[test]
    fn a_tolerance_has_no_sign_and_deviations_are_in_order() {
        let (nominal, below) = (number("20"), number("-1"));
        assert_eq!(Range::plus_minus(&nominal, &below), None);
        assert_eq!(Range::plus_minus_percent(&nominal, &below), None);
        assert_eq!(Range::plus_minus_percent(&number("-20"), &below), None);
        assert_eq!(Range::plus_and_minus(&nominal, &below, &number("0")), None);
    }

    #[test]
    fn every_percentage_of_zero_is_zero() {
        let range = Range::plus_minus_percent(&number("0"), &number("5")).unwrap();
        assert_eq!(range.single(), Some(&number("0")));
    }
}
