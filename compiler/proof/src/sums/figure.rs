//! Figures of a sum: as written, or exact in a unit, or between bounds that are rounded outward.

use locknut_quantity::{Exact, Limit, Rounding, UnitId, Units, to_decimal};
use num_traits::{Signed, Zero};

/// No figure of a workshop needs more digits after the point.
const MOST_DECIMALS: u32 = 9;

/// A figure with its unit, in words that can be checked by hand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Figure {
    /// The number, or the least and the greatest it can be.
    pub numbers: Vec<String>,
    /// The unit; empty for a bare number.
    pub unit: String,
    /// Whether digits were left out; each bound is then rounded away from the other.
    pub rounded: bool,
}

impl Figure {
    /// The ends of a limit, as they were meant; none where one is missing.
    pub(crate) fn of_limit(units: &Units, limit: &Limit) -> Option<Self> {
        let (lower, upper) = (limit.range.lower.as_ref()?, limit.range.upper.as_ref()?);
        Some(Self::between(units, &lower.value, &upper.value, limit.unit, limit.decimals))
    }

    /// Between two bounds, in base units of what `unit` measures, with so many digits after the point.
    pub(crate) fn between(
        units: &Units,
        low: &Exact,
        high: &Exact,
        unit: UnitId,
        decimals: u32,
    ) -> Self {
        let of = units.unit(unit);
        let (low, high) = (of.number_of(low), of.number_of(high));
        let (down, up) =
            (rounded(&low, decimals, Rounding::Down), rounded(&high, decimals, Rounding::Up));
        let mut numbers = vec![to_decimal(&down, decimals)];
        let rounded = down != low || up != high;
        if low != high {
            numbers.push(to_decimal(&up, decimals));
        } else if rounded {
            numbers = vec![to_decimal(&low, decimals)];
        }
        Self { numbers, unit: of.name.clone(), rounded }
    }

    /// One number with so many significant digits, rounded to the side that is the worse one.
    pub(crate) fn one(
        units: &Units,
        value: &Exact,
        unit: UnitId,
        significant: u32,
        rounding: Rounding,
    ) -> Self {
        let of = units.unit(unit);
        let number = of.number_of(value);
        let decimals = decimals_for(&number, significant);
        let near = rounded(&number, decimals, rounding);
        let numbers = vec![to_decimal(&near, decimals)];
        Self { numbers, unit: of.name.clone(), rounded: near != number }
    }

    /// What its author declared: every digit of it, and at least so many significant ones. What no digits can say is
    /// rounded to the side that is the worse one.
    pub(crate) fn declared(
        units: &Units,
        value: &Exact,
        unit: UnitId,
        significant: u32,
        rounding: Rounding,
    ) -> Self {
        let of = units.unit(unit);
        let number = of.number_of(value);
        let least = decimals_for(&number, significant);
        let says = |decimals: &u32| rounded(&number, *decimals, rounding) == number;
        let decimals = (least..=MOST_DECIMALS).find(says).unwrap_or(least);
        let near = rounded(&number, decimals, rounding);
        let numbers = vec![to_decimal(&near, decimals)];
        Self { numbers, unit: of.name.clone(), rounded: near != number }
    }

    /// A whole number.
    pub(crate) fn whole(number: &Exact, rounding: Rounding) -> Vec<String> {
        vec![to_decimal(&rounded(number, 0, rounding), 0)]
    }

    /// `18.1 .. 27.3 kN`
    pub fn said(&self) -> String {
        let numbers = self.numbers.join(" .. ");
        if self.unit.is_empty() { numbers } else { format!("{numbers} {}", self.unit) }
    }
}

/// How many digits after the point make so many significant ones.
fn decimals_for(number: &Exact, significant: u32) -> u32 {
    let ten = Exact::from_integer(10.into());
    let mut size = number.abs();
    let mut decimals = significant.saturating_sub(1);
    while size >= ten && decimals > 0 {
        size /= &ten;
        decimals -= 1;
    }
    while size.is_positive() && size < Exact::from_integer(1.into()) && decimals < MOST_DECIMALS {
        size *= &ten;
        decimals += 1;
    }
    decimals
}

fn rounded(number: &Exact, decimals: u32, rounding: Rounding) -> Exact {
    let ten = Exact::from_integer(10.into());
    let step = (0..decimals).fold(Exact::from_integer(1.into()), |step, _| step / &ten);
    if number.is_zero() { number.clone() } else { rounding.to_step(number, &step) }
}

#[cfg(test)]
mod tests {
    use super::Figure;
    use locknut_quantity::{Rounding, Units, parse_exact};

    #[test]
    fn bounds_are_rounded_away_from_each_other() {
        let number = |text| parse_exact(text).unwrap();
        let between =
            |low, high| Figure::between(&Units::new(), &number(low), &number(high), Units::ONE, 1);
        let figure = between("1.29", "2.61");
        assert_eq!((figure.said().as_str(), figure.rounded), ("1.2 .. 2.7", true));
        let exact = between("1.2", "2.7");
        assert_eq!((exact.said().as_str(), exact.rounded), ("1.2 .. 2.7", false));
        assert_eq!(between("-1.29", "-1.21").said(), "-1.3 .. -1.2");
        assert_eq!(between("2.5", "2.5").said(), "2.5");
    }

    #[test]
    fn what_is_declared_keeps_its_digits() {
        let said = |text: &str| {
            let number = parse_exact(text).unwrap();
            let figure = Figure::declared(&Units::new(), &number, Units::ONE, 3, Rounding::Up);
            (figure.said(), figure.rounded)
        };
        assert_eq!(said("127.3"), ("127.3".to_owned(), false));
        assert_eq!(said("11"), ("11.0".to_owned(), false));
        assert_eq!(said("12.34567"), ("12.34567".to_owned(), false));
        assert_eq!(said("1/3"), ("0.334".to_owned(), true));
    }

    #[test]
    fn one_number_goes_to_the_side_that_is_asked_for() {
        let said = |text, rounding| {
            let number = parse_exact(text).unwrap();
            Figure::one(&Units::new(), &number, Units::ONE, 3, rounding).said()
        };
        assert_eq!(said("412.31", Rounding::Up), "413");
        assert_eq!(said("412.31", Rounding::Down), "412");
        assert_eq!(said("18.123", Rounding::Up), "18.2");
        assert_eq!(said("0.0012345", Rounding::Down), "0.00123");
        assert_eq!(said("0", Rounding::Up), "0.00");
        assert_eq!(said("123456", Rounding::Nearest), "123456");
    }
}
