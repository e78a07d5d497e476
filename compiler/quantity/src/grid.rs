//! The values that an instrument can show or be set to: evenly spaced, and nothing between them.

use crate::{Bound, Exact, Range, Rounding};
use num_bigint::BigInt;
use num_traits::{One, Signed, ToPrimitive, Zero};

/// Evenly spaced values: `origin + k × step` for every whole `k`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Grid {
    origin: Exact,
    step: Exact,
}

impl Grid {
    /// None unless the step is above zero.
    pub fn new(origin: Exact, step: Exact) -> Option<Self> {
        if step.is_positive() { Some(Self { origin, step }) } else { None }
    }

    /// The digits of an instrument with this range and resolution. A gauge from 0.03 mm in steps of
    /// 0.01 mm counts from zero; one whose lower end is no multiple of its step counts from there
    /// (so a thermometer counts whole degrees, wherever its scale has its zero).
    pub fn of_instrument(range: &Range, resolution: Exact) -> Option<Self> {
        let from_zero = Self::new(Exact::zero(), resolution)?;
        let lower = range.lower.as_ref().map(|bound| &bound.value);
        match lower.filter(|lower| !from_zero.has(lower)) {
            Some(lower) => Some(Self { origin: lower.clone(), step: from_zero.step }),
            None => Some(from_zero),
        }
    }

    /// One of its values.
    pub fn origin(&self) -> &Exact {
        &self.origin
    }

    /// From one value to the next.
    pub fn step(&self) -> &Exact {
        &self.step
    }

    /// Whether a value lies on it.
    pub fn has(&self, value: &Exact) -> bool {
        let away = if self.origin.is_zero() { value } else { &(value - &self.origin) };
        (away / &self.step).is_integer()
    }

    /// The value on it that another is rounded to.
    pub fn snap(&self, value: &Exact, rounding: Rounding) -> Exact {
        if self.origin.is_zero() {
            return rounding.to_step(value, &self.step);
        }
        &self.origin + rounding.to_step(&(value - &self.origin), &self.step)
    }

    /// The range from its first to its last value in `range`; an open end stays open where nothing
    /// bounds it. Empty where no value lies in `range`.
    #[must_use]
    pub fn draw_in(&self, range: &Range) -> Range {
        Range {
            lower: range.lower.as_ref().map(|bound| self.beside(bound, Rounding::Up)),
            upper: range.upper.as_ref().map(|bound| self.beside(bound, Rounding::Down)),
        }
    }

    /// How many of its values lie in a range; none where a range without end holds countless.
    pub fn count_in(&self, range: &Range) -> Option<BigInt> {
        let width = self.draw_in(range).width()?;
        Some((width / &self.step).to_integer().max(-BigInt::one()) + BigInt::one())
    }

    /// Its values in a range, ascending; none where there are more than `most`.
    pub fn values_in(&self, range: &Range, most: usize) -> Option<Vec<Exact>> {
        let count = self.count_in(range)?.to_usize().filter(|count| *count <= most)?;
        let first = self.draw_in(range).lower?.value;
        let value = |k: usize| &first + &self.step * Exact::from_integer(k.into());
        Some((0..count).map(value).collect())
    }

    /// The first value of the grid inside an end.
    fn beside(&self, bound: &Bound, inward: Rounding) -> Bound {
        let nearest = self.snap(&bound.value, inward);
        let step = if inward == Rounding::Up { self.step.clone() } else { -&self.step };
        let outside = !bound.closed && nearest == bound.value;
        Bound { value: if outside { nearest + step } else { nearest }, closed: true }
    }
}

#[cfg(test)]
mod tests {
    use super::Grid;
    use crate::{Exact, Range, Rounding, parse_exact};

    fn number(text: &str) -> Exact {
        parse_exact(text).unwrap()
    }

    #[test]
    fn a_gauge_counts_from_zero_and_a_thermometer_in_whole_degrees() {
        let gauge = Range::closed(number("0.03"), number("2"));
        let gauge = Grid::of_instrument(&gauge, number("0.01")).unwrap();
        assert!(gauge.has(&number("0.35")) && !gauge.has(&number("0.355")));
        // −50 … 150 °C in kelvin.
        let scale = Range::closed(number("223.15"), number("423.15"));
        let scale = Grid::of_instrument(&scale, number("1")).unwrap();
        assert!(scale.has(&number("273.15")) && !scale.has(&number("273")));
    }

    #[test]
    fn an_instrument_without_steps_has_no_grid() {
        assert_eq!(Grid::of_instrument(&Range::default(), number("0")), None);
        assert_eq!(Grid::new(number("0"), number("-1")), None);
    }

    #[test]
    fn open_ends_leave_out_the_value_they_lie_on() {
        let grid = Grid::new(number("0"), number("0.1")).unwrap();
        let range =
            Range::from(number("0.2"), false).intersect(&Range::up_to(number("0.45"), true));
        assert_eq!(grid.draw_in(&range), Range::closed(number("0.3"), number("0.4")));
        assert_eq!(grid.count_in(&range), Some(2.into()));
        assert_eq!(grid.values_in(&range, 2), Some(vec![number("0.3"), number("0.4")]));
        assert_eq!(grid.values_in(&range, 1), None);
    }

    #[test]
    fn nothing_lies_between_two_steps() {
        let grid = Grid::new(number("0"), number("0.1")).unwrap();
        let between = Range::closed(number("0.21"), number("0.29"));
        assert!(grid.draw_in(&between).is_empty());
        assert_eq!(grid.count_in(&between), Some(0.into()));
        assert_eq!(grid.values_in(&between, 5), Some(Vec::new()));
        let turned = Range::closed(number("5"), number("1"));
        assert_eq!(grid.count_in(&turned), Some(0.into()));
    }

    #[test]
    fn countless_values_are_not_counted() {
        let grid = Grid::new(number("0"), number("1")).unwrap();
        assert_eq!(grid.count_in(&Range::from(number("0"), true)), None);
        assert_eq!(grid.snap(&number("2.5"), Rounding::Nearest), number("2"));
    }
}
