//! Where an angle points, without floats.

use crate::{Exact, Rounding};
use num_bigint::BigInt;
use num_traits::{One, Zero};

/// π to 30 digits after the point, of its printed expansion.
const PI: i128 = 3_141_592_653_589_793_238_462_643_383_279;
const PI_DIGITS: u32 = 30;
/// What comes out is rounded to so many digits after the point.
const DIGITS: u32 = 18;
/// A quarter turn is less than 2, and 2²⁷/27! is far below the last digit.
const TERMS: u32 = 14;

/// Sine and cosine of an angle in turns, to 18 digits; at whole quarters they are exact.
///
/// ```
/// use locknut_quantity::{parse_exact, sine_and_cosine};
/// let (sine, cosine) = sine_and_cosine(&parse_exact("1/12").unwrap());
/// assert_eq!(sine, parse_exact("0.5").unwrap());
/// assert_eq!(cosine, parse_exact("0.866025403784438647").unwrap());
/// ```
pub fn sine_and_cosine(turns: &Exact) -> (Exact, Exact) {
    let quarters = turns * whole(4);
    let full = quarters.floor();
    let (sine, cosine) = of_a_quarter(&(&quarters - &full));
    let left = full.to_integer() % BigInt::from(4);
    // The remainder of a negative number is negative.
    let quarter = (left + BigInt::from(4)) % BigInt::from(4);
    match u8::try_from(quarter).unwrap_or(0) {
        0 => (sine, cosine),
        1 => (cosine, -sine),
        2 => (-sine, -cosine),
        _ => (-cosine, sine),
    }
}

/// By the power series of both; `part` of a quarter turn is from 0 to 1.
fn of_a_quarter(part: &Exact) -> (Exact, Exact) {
    let step = Exact::new(BigInt::one(), BigInt::from(10).pow(DIGITS));
    let pi = Exact::new(BigInt::from(PI), BigInt::from(10).pow(PI_DIGITS));
    // Twice the digits on the way, so that what is left out there does not show.
    let fine = &step * &step;
    let angle = Rounding::Nearest.to_step(&(part * pi / whole(2)), &fine);
    let square = &angle * &angle;
    let (mut sine, mut cosine) = (Exact::zero(), Exact::zero());
    let mut term = Exact::one();
    for power in 0..TERMS {
        cosine += &term;
        let next = &term * &angle / whole(2 * power + 1);
        sine += &next;
        term = -(&term * &square) / whole((2 * power + 1) * (2 * power + 2));
        term = Rounding::Nearest.to_step(&term, &fine);
    }
    let rounded = |value: &Exact| Rounding::Nearest.to_step(value, &step);
    (rounded(&sine), rounded(&cosine))
}

fn whole(number: u32) -> Exact {
    Exact::from_integer(number.into())
}

#[cfg(test)]
#[expect(
    clippy::float_arithmetic,
    reason = "the platform's own reckoning is what it is held against"
)]
mod tests {
    use super::sine_and_cosine;
    use crate::{Exact, parse_exact};
    use num_traits::{Signed, ToPrimitive};
    use proptest::prelude::*;

    #[test]
    fn whole_quarters_are_exact() {
        for (turns, sine, cosine) in [
            ("0", 0, 1),
            ("0.25", 1, 0),
            ("0.5", 0, -1),
            ("0.75", -1, 0),
            ("-0.25", -1, 0),
            ("5", 0, 1),
        ] {
            let wanted = (Exact::from_integer(sine.into()), Exact::from_integer(cosine.into()));
            assert_eq!(sine_and_cosine(&parse_exact(turns).unwrap()), wanted, "{turns}");
        }
    }

    proptest! {
        /// The platform's own sine and cosine are an independent reckoning, to 15 digits.
        #[test]
        fn they_are_those_of_the_platform(thousandths in -3000i64..3000) {
            let turns = Exact::new(thousandths.into(), 1000.into());
            let angle = 2.0 * std::f64::consts::PI * turns.to_f64().unwrap();
            let (sine, cosine) = sine_and_cosine(&turns);
            prop_assert!((sine.to_f64().unwrap() - angle.sin()).abs() < 1e-13);
            prop_assert!((cosine.to_f64().unwrap() - angle.cos()).abs() < 1e-13);
        }

        #[test]
        fn their_squares_add_up_to_one(thousandths in 0i64..1000) {
            let (sine, cosine) = sine_and_cosine(&Exact::new(thousandths.into(), 1000.into()));
            let off = &sine * &sine + &cosine * &cosine - Exact::from_integer(1.into());
            prop_assert!(off.abs() < parse_exact("0.000000000000000004").unwrap());
        }
    }
}
