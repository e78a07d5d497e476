//! Numbers that are known to lie between two exact ones: for roots and for π, which no fraction says.

use crate::Exact;
use crate::dyadic::{Dyadic, Toward};

/// Somewhere from a least to a greatest, both included. Arithmetic keeps what it bounds inside, and nothing is
/// ever rounded inward.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Between {
    low: Dyadic,
    high: Dyadic,
}

impl Between {
    /// From the lesser of two numbers to the greater, to 18 digits.
    pub fn new(one: &Exact, other: &Exact) -> Self {
        let (low, high) = if one <= other { (one, other) } else { (other, one) };
        Self { low: Dyadic::of(low, Toward::Less), high: Dyadic::of(high, Toward::More) }
    }

    /// Just this number, to 18 digits.
    pub fn exactly(value: &Exact) -> Self {
        Self::new(value, value)
    }

    /// π, between two neighbours.
    pub fn pi() -> Self {
        // ⌊π · 2⁶⁰⌋, from its printed digits.
        const SIXTY_BITS: i64 = 3_622_009_729_038_561_421;
        let digits = |mantissa| Dyadic::new(mantissa, -60);
        Self { low: digits(SIXTY_BITS), high: digits(SIXTY_BITS + 1) }
    }

    /// The least that it can be.
    pub fn low(&self) -> Exact {
        self.low.exact()
    }

    /// The greatest that it can be.
    pub fn high(&self) -> Exact {
        self.high.exact()
    }

    /// The sum of the two.
    #[must_use]
    pub fn plus(&self, other: &Self) -> Self {
        Self {
            low: self.low.plus(other.low, Toward::Less),
            high: self.high.plus(other.high, Toward::More),
        }
    }

    /// This less the other.
    #[must_use]
    pub fn less(&self, other: &Self) -> Self {
        self.plus(&Self { low: other.high.negated(), high: other.low.negated() })
    }

    /// The product of the two.
    #[must_use]
    pub fn times(&self, other: &Self) -> Self {
        if !self.low.is_negative() && !other.low.is_negative() {
            let low = self.low.times(other.low, Toward::Less);
            return Self { low, high: self.high.times(other.high, Toward::More) };
        }
        let ends = |toward| {
            let times = |one: Dyadic, two| one.times(two, toward);
            [
                times(self.low, other.low),
                times(self.low, other.high),
                times(self.high, other.low),
                times(self.high, other.high),
            ]
        };
        let least = ends(Toward::Less).into_iter().reduce(Dyadic::lesser);
        let most = ends(Toward::More).into_iter().reduce(Dyadic::greater);
        Self { low: least.unwrap_or_default(), high: most.unwrap_or_default() }
    }

    /// This divided by the other; none where the other may be nought.
    pub fn over(&self, other: &Self) -> Option<Self> {
        if !other.low.is_positive() && !other.high.is_negative() {
            return None;
        }
        let low = other.high.inverted(Toward::Less)?;
        Some(self.times(&Self { low, high: other.low.inverted(Toward::More)? }))
    }

    /// The square root; none where it may be of a number below zero.
    pub fn root(&self) -> Option<Self> {
        Some(Self { low: self.low.root(Toward::Less)?, high: self.high.root(Toward::More)? })
    }
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

    fn exactly(text: &str) -> Between {
        Between::exactly(&number(text))
    }

    #[test]
    fn roots_of_squares_are_exact_and_others_are_bounded() {
        assert_eq!(exactly("9/4").root(), Some(exactly("1.5")));
        assert_eq!(exactly("0").root(), Some(exactly("0")));
        assert_eq!(exactly("-1").root(), None);
        let two = exactly("2").root().unwrap();
        assert!(two.low() * two.low() < number("2") && two.high() * two.high() > number("2"));
        assert!(two.high() - two.low() < number("0.000000000000001"));
    }

    #[test]
    fn nothing_is_divided_by_what_may_be_nought() {
        let one = exactly("1");
        assert_eq!(one.over(&Between::new(&number("-1"), &number("1"))), None);
        let halves = one.over(&Between::new(&number("-4"), &number("-2"))).unwrap();
        assert_eq!(halves, Between::new(&number("-0.5"), &number("-0.25")));
    }

    #[test]
    fn long_numbers_are_rounded_outward() {
        for text in ["12345678901234567/98765432109876541", "-12345678901234567/98765432109876541"]
        {
            let one = number(text);
            let (mut exact, mut kept) = (one.clone(), Between::exactly(&one));
            for _ in 0..9 {
                exact *= &one;
                kept = kept.times(&Between::exactly(&one));
            }
            assert!(kept.low() < exact && exact < kept.high(), "{text}");
            assert!(kept.low().numer().bits() <= 62, "{text}");
            let width = kept.high() - kept.low();
            assert!(width < exact.abs() / number("10000000000000000"));
        }
    }

    /// Far apart, near one another, on both sides of nought, and longer than what is kept.
    fn number_of_any_size() -> impl Strategy<Value = Exact> {
        (-1_000_000_000_000_i64..1_000_000_000_000, 1_i64..1_000_000, 0_u32..60, any::<bool>())
            .prop_map(|(above, below, shift, great)| {
                let by = Exact::from_integer(num_bigint::BigInt::from(1) << shift);
                let value = Exact::new(above.into(), below.into());
                if great { value * by } else { value / by }
            })
    }

    proptest! {
        #[test]
        fn bounds_hold_whatever_is_reckoned([a, b, c, d] in [(); 4].map(|()| number_of_any_size())) {
            let (one, two) = (Between::new(&a, &b), Between::new(&c, &d));
            let holds = |range: &Between, value: &Exact| range.low() <= *value && *value <= range.high();
            for x in [&a, &b] {
                for y in [&c, &d] {
                    prop_assert!(holds(&one.plus(&two), &(x + y)));
                    prop_assert!(holds(&one.less(&two), &(x - y)));
                    prop_assert!(holds(&one.times(&two), &(x * y)));
                    if let Some(ratio) = one.over(&two) {
                        prop_assert!(holds(&ratio, &(x / y)));
                    }
                }
            }
            prop_assert_eq!(one.root().is_none(), a.is_negative() || b.is_negative());
        }

        #[test]
        fn bounds_are_close(a in number_of_any_size(), b in number_of_any_size()) {
            let close = |range: &Between, value: &Exact| {
                range.high() - range.low() <= value.abs() / number("100000000000000000")
            };
            let (one, two) = (Between::exactly(&a), Between::exactly(&b));
            prop_assert!(close(&one, &a));
            prop_assert!(close(&one.times(&two), &(&a * &b)));
            if let Some(ratio) = one.over(&two) {
                prop_assert!(close(&ratio, &(&a / &b)));
            }
            if let Some(root) = one.root() {
                prop_assert!(root.low() * root.low() <= a && a <= root.high() * root.high());
                prop_assert!(close(&root, &root.low()));
            }
        }

        #[test]
        fn what_is_inside_stays_inside(
            a in -1000i64..1000, b in -1000i64..1000, width in 0i64..50, other in 0i64..50,
        ) {
            let of = |value: i64| Exact::from_integer(value.into());
            let (one, two) = (Between::new(&of(a), &of(a + width)), Between::new(&of(b), &of(b + other)));
            let (x, y) = (of(a + width / 2), of(b + other / 3));
            let holds = |range: &Between, value: &Exact| range.low() <= *value && *value <= range.high();
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
