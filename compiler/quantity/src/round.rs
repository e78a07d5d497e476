//! Rounding to fewer digits, in the direction that a limit allows.

use crate::{Exact, Range, Unit};
use num_bigint::BigInt;
use num_traits::{One, Signed, Zero};

/// Which way a number is rounded to fewer digits.
///
/// *Nearest, half to even* is NIST SP 811 B.7 and ISO 80000-1:2009 Annex B, rule A. A *limit* goes
/// inward instead: a lower one up, an upper one down, so that what is accepted in the reader's unit
/// would be accepted in the author's (ASME A112.18.1/CSA B125.1 Annex A; vehicle workshop manuals).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rounding {
    /// To the nearest, half to even.
    Nearest,
    /// Towards greater values: for a lower limit.
    Up,
    /// Towards lesser values: for an upper limit.
    Down,
}

impl Rounding {
    /// The multiple of `step` that a number is rounded to; the number itself where `step` is not
    /// above zero.
    ///
    /// ```
    /// use locknut_quantity::{Rounding, parse_exact};
    /// let number = |text| parse_exact(text).unwrap();
    /// assert_eq!(Rounding::Nearest.to_step(&number("1225"), &number("10")), number("1220"));
    /// assert_eq!(Rounding::Down.to_step(&number("264.78"), &number("10")), number("260"));
    /// ```
    pub fn to_step(self, value: &Exact, step: &Exact) -> Exact {
        if !step.is_positive() {
            return value.clone();
        }
        self.to_whole(&(value / step)) * step
    }

    /// Rounded to a multiple of ten to the power `place`.
    pub(crate) fn to_place(self, value: &Exact, place: i64) -> Exact {
        self.to_step(value, &ten_to(place))
    }

    /// The whole number that a number is rounded to.
    fn to_whole(self, value: &Exact) -> Exact {
        match self {
            Self::Up => value.ceil(),
            Self::Down => value.floor(),
            Self::Nearest => half_to_even(value),
        }
    }
}

fn half_to_even(value: &Exact) -> Exact {
    let floor = value.floor();
    let twice = (value - &floor) * Exact::from(2);
    let more_than_half = twice.cmp(&Exact::one());
    let odd = || !(&floor / Exact::from(2)).is_integer();
    if more_than_half.is_gt() || (more_than_half.is_eq() && odd()) {
        floor + Exact::one()
    } else {
        floor
    }
}

/// The ends of a range in a unit, rounded inward to so many digits after the point; none where
/// nothing is left.
pub fn inward(range: &Range, unit: &Unit, decimals: u32) -> Option<(Option<Exact>, Option<Exact>)> {
    inward_to(range, unit, &ten_to(-i64::from(decimals)))
}

/// The ends of a range in a unit, rounded inward to multiples of `step` of that unit; none where
/// nothing is left.
pub fn inward_to(
    range: &Range,
    unit: &Unit,
    step: &Exact,
) -> Option<(Option<Exact>, Option<Exact>)> {
    let end = |value: &Exact, rounding: Rounding| rounding.to_step(&unit.number_of(value), step);
    let lower = range.lower.as_ref().map(|bound| end(&bound.value, Rounding::Up));
    let upper = range.upper.as_ref().map(|bound| end(&bound.value, Rounding::Down));
    let drawn = range.with_ends(lower.clone(), upper.clone());
    if drawn.is_empty() { None } else { Some((lower, upper)) }
}

/// Ten to a power.
pub(crate) fn ten_to(power: i64) -> Exact {
    let size = u32::try_from(power.unsigned_abs()).unwrap_or(u32::MAX);
    let ten = match 10_i64.checked_pow(size) {
        Some(word) => Exact::from(word),
        None => Exact::from_integer(BigInt::from(10).pow(size)),
    };
    if power < 0 { ten.recip() } else { ten }
}

/// The place of the first digit: the greatest power of ten that is not above the number; none for 0.
pub(crate) fn first_place(value: &Exact) -> Option<i64> {
    if value.is_zero() {
        return None;
    }
    let length = |part: &BigInt| i64::try_from(part.abs().to_string().len()).unwrap_or(i64::MAX);
    let guess = length(&value.numer()) - length(&value.denom());
    Some(if ten_to(guess) > value.abs() { guess - 1 } else { guess })
}

/// The digits of a number that has no more than so many after the point.
pub(crate) fn digits(value: &Exact, decimals: u32) -> String {
    let places = usize::try_from(decimals).unwrap_or(0);
    let all = (value.abs() * ten_to(i64::from(decimals))).to_integer().to_string();
    let padded = format!("{all:0>width$}", width = places + 1);
    let (whole, fraction) = padded.split_at(padded.len() - places);
    let sign = if value.is_negative() { "-" } else { "" };
    if places == 0 { format!("{sign}{whole}") } else { format!("{sign}{whole}.{fraction}") }
}

#[cfg(test)]
mod tests {
    use super::{Rounding, first_place, inward_to};
    use crate::{Bound, Range, Units, parse_exact};

    #[test]
    fn the_first_digit_is_found_without_floats() {
        for (text, place) in [("1", 0), ("9.99", 0), ("0.1", -1), ("-0.0999", -2), ("1000", 3)] {
            assert_eq!(first_place(&parse_exact(text).unwrap()), Some(place), "{text}");
        }
        assert_eq!(first_place(&parse_exact("0").unwrap()), None);
    }

    #[test]
    fn an_open_end_leaves_nothing_where_both_ends_meet() {
        let units = Units::new();
        let number = |text| parse_exact(text).unwrap();
        let mut range = Range::closed(number("0.2"), number("1.3"));
        let one = units.unit(Units::ONE);
        assert!(inward_to(&range, one, &number("1")).is_some());
        range.upper = Some(Bound { value: number("1.3"), closed: false });
        assert!(inward_to(&range, one, &number("1")).is_none(), "nobody can read 1 to under 1");
        assert!(inward_to(&range, one, &number("0.1")).is_some());
    }

    #[test]
    fn a_step_that_is_none_changes_nothing() {
        let value = parse_exact("1.7").unwrap();
        assert_eq!(Rounding::Up.to_step(&value, &parse_exact("0").unwrap()), value);
    }
}
