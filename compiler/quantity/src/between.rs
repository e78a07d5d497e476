//! Numbers that are known to lie between two exact ones: for roots and for π, which no fraction says.

use crate::Exact;
use num_bigint::BigInt;
use num_integer::Integer;
use num_traits::{Signed, Zero};

/// Somewhere from `low` to `high`, both included. Arithmetic keeps what it bounds inside, and nothing is
/// ever rounded inward.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Between {
    low: Exact,
    high: Exact,
}

/// Longer numbers are rounded outward to so many binary digits: far finer than anything that is measured, and what
/// is reckoned on with them stays cheap.
const MOST_BITS: u64 = 80;

/// A root is bounded to one part in ten to the power of so many, of its own size.
const ROOT_DIGITS: u32 = 18;

impl Between {
    /// From the lesser of two numbers to the greater.
    pub fn new(one: Exact, other: Exact) -> Self {
        if one <= other { Self { low: one, high: other } } else { Self { low: other, high: one } }
    }

    /// Just this number.
    pub fn exactly(value: Exact) -> Self {
        Self { low: value.clone(), high: value }
    }

    /// π, between two neighbours with 18 digits after the point.
    pub fn pi() -> Self {
        let digits = |last: u64| {
            let scale = BigInt::from(10u32).pow(18);
            Exact::new(BigInt::from(last), scale)
        };
        Self { low: digits(3_141_592_653_589_793_238), high: digits(3_141_592_653_589_793_239) }
    }

    /// The least that it can be.
    pub fn low(&self) -> &Exact {
        &self.low
    }

    /// The greatest that it can be.
    pub fn high(&self) -> &Exact {
        &self.high
    }

    /// The sum of the two.
    #[must_use]
    pub fn plus(&self, other: &Self) -> Self {
        Self { low: &self.low + &other.low, high: &self.high + &other.high }.snug()
    }

    /// This less the other.
    #[must_use]
    pub fn less(&self, other: &Self) -> Self {
        Self { low: &self.low - &other.high, high: &self.high - &other.low }.snug()
    }

    /// The product of the two.
    #[must_use]
    pub fn times(&self, other: &Self) -> Self {
        if !self.low.is_negative() && !other.low.is_negative() {
            return Self { low: &self.low * &other.low, high: &self.high * &other.high }.snug();
        }
        let ends = [
            &self.low * &other.low,
            &self.low * &other.high,
            &self.high * &other.low,
            &self.high * &other.high,
        ];
        let mut product = Self::exactly(&self.low * &other.low);
        for end in ends {
            if end < product.low {
                product.low = end;
            } else if end > product.high {
                product.high = end;
            }
        }
        product.snug()
    }

    /// This divided by the other; none where the other may be nought.
    pub fn over(&self, other: &Self) -> Option<Self> {
        if !other.low.is_positive() && !other.high.is_negative() {
            return None;
        }
        let one = Exact::from_integer(1.into());
        Some(self.times(&Self::new(&one / &other.low, &one / &other.high)))
    }

    /// The same or a little wider, in numbers that are not long.
    fn snug(self) -> Self {
        Self { low: shortened(self.low, false), high: shortened(self.high, true) }
    }

    /// The square root; none where it may be of a number below zero.
    pub fn root(&self) -> Option<Self> {
        if self.low.is_negative() {
            return None;
        }
        Some(Self { low: root_below(&self.low), high: root_above(&self.high) })
    }
}

/// Rounded down or up to so many binary digits, where it has more.
fn shortened(value: Exact, up: bool) -> Exact {
    let (above, below) = (value.numer().bits(), value.denom().bits());
    if above.max(below) <= MOST_BITS {
        return value;
    }
    let shift = (MOST_BITS + below).saturating_sub(above);
    let scaled = value.numer() << shift;
    let whole = if up { scaled.div_ceil(value.denom()) } else { scaled.div_floor(value.denom()) };
    // The denominator is a power of two: what they have in common is seen without dividing.
    let common = whole.trailing_zeros().unwrap_or(shift).min(shift);
    Exact::new_raw(whole >> common, BigInt::from(1) << (shift - common))
}

/// `√(n/d) = √(n·d·s²) / (d·s)`, with whole numbers only; `s` makes as many digits as are kept.
fn root_below(value: &Exact) -> Exact {
    let (whole, below) = scaled_root(value);
    Exact::new(whole, below)
}

fn root_above(value: &Exact) -> Exact {
    let (whole, below) = scaled_root(value);
    let root = Exact::new(whole.clone(), below.clone());
    if &root * &root == *value { root } else { Exact::new(whole + 1, below) }
}

fn scaled_root(value: &Exact) -> (BigInt, BigInt) {
    if value.is_zero() {
        return (BigInt::zero(), BigInt::from(1));
    }
    let scale = BigInt::from(10u32).pow(ROOT_DIGITS);
    let under = value.numer() * value.denom() * &scale * &scale;
    (under.sqrt(), value.denom() * scale)
}

#[cfg(test)]
mod tests {
    use super::Between;
    use crate::{Exact, parse_exact};
    use num_traits::Signed;
    use proptest::prelude::*;

    fn number(text: &str) -> Exact {
        parse_exact(text).unwrap()
    }

    #[test]
    fn roots_of_squares_are_exact_and_others_are_bounded() {
        assert_eq!(Between::exactly(number("9/4")).root(), Some(Between::exactly(number("1.5"))));
        assert_eq!(Between::exactly(number("0")).root(), Some(Between::exactly(number("0"))));
        assert_eq!(Between::exactly(number("-1")).root(), None);
        let two = Between::exactly(number("2")).root().unwrap();
        assert!(two.low() * two.low() < number("2") && two.high() * two.high() > number("2"));
        assert!(two.high() - two.low() < number("0.000000000000001"));
    }

    #[test]
    fn nothing_is_divided_by_what_may_be_nought() {
        let one = Between::exactly(number("1"));
        assert_eq!(one.over(&Between::new(number("-1"), number("1"))), None);
        let halves = one.over(&Between::new(number("-4"), number("-2"))).unwrap();
        assert_eq!(halves, Between::new(number("-0.5"), number("-0.25")));
    }

    #[test]
    fn long_numbers_are_rounded_outward() {
        for text in ["12345678901234567/98765432109876541", "-12345678901234567/98765432109876541"]
        {
            let one = number(text);
            let (mut exact, mut kept) = (one.clone(), Between::exactly(one.clone()));
            for _ in 0..9 {
                exact *= &one;
                kept = kept.times(&Between::exactly(one.clone()));
            }
            assert!(kept.low() < &exact && &exact < kept.high(), "{text}");
            assert!(kept.low().numer().bits() <= super::MOST_BITS + 1, "{text}");
            let width = kept.high() - kept.low();
            assert!(width < exact.abs() / number("1000000000000000000000"));
        }
    }

    proptest! {
        #[test]
        fn what_is_inside_stays_inside(
            a in -1000i64..1000, b in -1000i64..1000, width in 0i64..50, other in 0i64..50,
        ) {
            let of = |value: i64| Exact::from_integer(value.into());
            let (one, two) = (Between::new(of(a), of(a + width)), Between::new(of(b), of(b + other)));
            let (x, y) = (of(a + width / 2), of(b + other / 3));
            let holds = |range: &Between, value: &Exact| range.low() <= value && value <= range.high();
            prop_assert!(holds(&one.plus(&two), &(&x + &y)));
            prop_assert!(holds(&one.less(&two), &(&x - &y)));
            prop_assert!(holds(&one.times(&two), &(&x * &y)));
            if let Some(ratio) = one.over(&two) {
                prop_assert!(holds(&ratio, &(&x / &y)));
            }
            if let Some(root) = one.root() {
                prop_assert!(root.low() * root.low() <= x && x <= root.high() * root.high());
            }
        }
    }
}
