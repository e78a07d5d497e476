//! Whole numbers times powers of two, of a fixed length: what bounds are reckoned in. They cost no more than the
//! machine's own numbers, and each operation says which way it rounds.

use crate::Exact;
use num_bigint::BigInt;
use num_integer::Integer;
use num_traits::{ToPrimitive, Zero};
use std::cmp::Ordering;

/// So many binary digits are kept: 18 decimal ones, far finer than anything that is measured.
const KEPT: u32 = 62;

/// Products of two, and what is divided, have so many at most: one fewer than fit with a sign.
const ROOM: u32 = 124;

/// Which way what does not fit is rounded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Toward {
    /// Down, below nought too.
    Less,
    /// Up.
    More,
}

/// `mantissa × 2^exponent`; the mantissa is odd, or nought.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Dyadic {
    mantissa: i128,
    exponent: i64,
}

impl Dyadic {
    pub(crate) fn new(mantissa: i64, exponent: i64) -> Self {
        Self::rounded(mantissa.into(), exponent, Toward::Less)
    }

    /// An exact number, rounded where it has more digits than are kept.
    pub(crate) fn of(value: &Exact, toward: Toward) -> Self {
        if let Some((above, below)) = value.words() {
            return Self::of_words(above.into(), below.into(), toward);
        }
        let bits = |part: &BigInt| i64::try_from(part.bits()).unwrap_or(i64::MAX);
        let shift = i64::from(KEPT) + bits(&value.denom()) - bits(&value.numer());
        let by = usize::try_from(shift.unsigned_abs()).unwrap_or(usize::MAX);
        let (above, below) = if shift >= 0 {
            (value.numer() << by, value.denom())
        } else {
            (value.numer(), value.denom() << by)
        };
        let whole = match toward {
            Toward::Less => above.div_floor(&below),
            Toward::More => above.div_ceil(&below),
        };
        // It has one binary digit more than are kept, at most.
        Self::rounded(whole.to_i128().unwrap_or_default(), -shift, toward)
    }

    /// The same of a fraction of two words, in double words.
    fn of_words(above: i128, below: i128, toward: Toward) -> Self {
        let shift = i64::from(KEPT) + i64::from(length(below)) - i64::from(length(above));
        let by = u32::try_from(shift.unsigned_abs()).unwrap_or(u32::MAX);
        let (above, below) = if shift >= 0 { (above << by, below) } else { (above, below << by) };
        let whole = match toward {
            Toward::Less => Integer::div_floor(&above, &below),
            Toward::More => Integer::div_ceil(&above, &below),
        };
        Self::rounded(whole, -shift, toward)
    }

    /// What it is, exactly.
    pub(crate) fn exact(self) -> Exact {
        let by = usize::try_from(self.exponent.unsigned_abs()).unwrap_or(usize::MAX);
        let mantissa = BigInt::from(self.mantissa);
        if self.exponent >= 0 {
            Exact::from_integer(mantissa << by)
        } else {
            Exact::new(mantissa, BigInt::from(1) << by)
        }
    }

    pub(crate) fn is_negative(self) -> bool {
        self.mantissa.is_negative()
    }

    pub(crate) fn is_positive(self) -> bool {
        self.mantissa.is_positive()
    }

    pub(crate) fn negated(self) -> Self {
        Self { mantissa: -self.mantissa, exponent: self.exponent }
    }

    pub(crate) fn plus(self, other: Self, toward: Toward) -> Self {
        if self.mantissa.is_zero() || other.mantissa.is_zero() {
            return if self.mantissa.is_zero() { other } else { self };
        }
        let last = self.first().max(other.first()) - i64::from(ROOM - 2);
        let last = last.max(self.exponent.min(other.exponent));
        let sum = self.at(last, toward) + other.at(last, toward);
        Self::rounded(sum, last, toward)
    }

    pub(crate) fn times(self, other: Self, toward: Toward) -> Self {
        Self::rounded(self.mantissa * other.mantissa, self.exponent + other.exponent, toward)
    }

    /// One divided by it; none of nought.
    pub(crate) fn inverted(self, toward: Toward) -> Option<Self> {
        if self.mantissa.is_zero() {
            return None;
        }
        let one = 1_i128 << ROOM;
        let whole = match toward {
            Toward::Less => Integer::div_floor(&one, &self.mantissa),
            Toward::More => Integer::div_ceil(&one, &self.mantissa),
        };
        Some(Self::rounded(whole, -i64::from(ROOM) - self.exponent, toward))
    }

    /// The square root; none of a number below nought.
    pub(crate) fn root(self, toward: Toward) -> Option<Self> {
        if self.mantissa.is_negative() {
            return None;
        }
        let room = ROOM - length(self.mantissa);
        // The exponent must be even to be halved.
        let odd = (self.exponent - i64::from(room)).rem_euclid(2) == 1;
        let shift = if odd { room - 1 } else { room };
        let scaled = self.mantissa << shift;
        let below = scaled.isqrt();
        let more = toward == Toward::More && below * below < scaled;
        let whole = if more { below + 1 } else { below };
        Some(Self::rounded(whole, (self.exponent - i64::from(shift)) / 2, toward))
    }

    pub(crate) fn lesser(self, other: Self) -> Self {
        if self.compared(other) == Ordering::Greater { other } else { self }
    }

    pub(crate) fn greater(self, other: Self) -> Self {
        if self.compared(other) == Ordering::Less { other } else { self }
    }

    fn compared(self, other: Self) -> Ordering {
        let apart = self.plus(other.negated(), Toward::Less);
        // Rounding down never makes a difference above nought vanish: its last digit is one of the two's.
        apart.mantissa.cmp(&0)
    }

    /// Where its first binary digit stands.
    fn first(self) -> i64 {
        self.exponent + i64::from(length(self.mantissa))
    }

    /// How many of `2^exponent` it is.
    fn at(self, exponent: i64, toward: Toward) -> i128 {
        let by = u32::try_from((self.exponent - exponent).unsigned_abs()).unwrap_or(u32::MAX);
        if self.exponent >= exponent {
            self.mantissa << by.min(i128::BITS - 1)
        } else {
            shifted(self.mantissa, by, toward)
        }
    }

    fn rounded(mantissa: i128, exponent: i64, toward: Toward) -> Self {
        let over = length(mantissa).saturating_sub(KEPT);
        let kept = shifted(mantissa, over, toward);
        if kept.is_zero() {
            return Self::default();
        }
        let noughts = kept.trailing_zeros();
        Self { mantissa: kept >> noughts, exponent: exponent + i64::from(over + noughts) }
    }
}

/// How many binary digits it has.
fn length(mantissa: i128) -> u32 {
    u128::BITS - mantissa.unsigned_abs().leading_zeros()
}

/// Without so many of its last binary digits.
fn shifted(mantissa: i128, by: u32, toward: Toward) -> i128 {
    let by = by.min(i128::BITS - 1);
    match toward {
        Toward::Less => mantissa >> by,
        Toward::More => -(-mantissa >> by),
    }
}
