//! Sums, products, signs and order of exact numbers.

use super::{Exact, Form};
use num_rational::{BigRational, ParseRatioError};
use num_traits::{Num, One, Signed, Zero};
use std::cmp::Ordering;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, DivAssign, Mul, MulAssign, Neg, Rem, Sub, SubAssign};

/// Two fractions of words come to one of double words: products have two digits fewer than these hold, and a sum of
/// two products one.
fn sum(one: &Exact, other: &Exact) -> Exact {
    match (one.words(), other.words()) {
        (Some((a, b)), Some((c, d))) if b == d => {
            Exact::of(i128::from(a) + i128::from(c), b.into())
        }
        (Some((a, b)), Some((c, d))) => {
            let [a, b, c, d] = [a, b, c, d].map(i128::from);
            Exact::of(a * d + c * b, b * d)
        }
        _ => Exact::large(one.to_large() + other.to_large()),
    }
}

fn difference(one: &Exact, other: &Exact) -> Exact {
    sum(one, &-other)
}

fn product(one: &Exact, other: &Exact) -> Exact {
    match (one.words(), other.words()) {
        (Some((a, b)), Some((c, d))) => {
            let [a, b, c, d] = [a, b, c, d].map(i128::from);
            Exact::of(a * c, b * d)
        }
        _ => Exact::large(one.to_large() * other.to_large()),
    }
}

fn quotient(one: &Exact, other: &Exact) -> Exact {
    match (one.words(), other.words()) {
        (Some((a, b)), Some((c, d))) => {
            let [a, b, c, d] = [a, b, c, d].map(i128::from);
            Exact::of(a * d, b * c)
        }
        _ => Exact::large(one.to_large() / other.to_large()),
    }
}

fn rest(one: &Exact, other: &Exact) -> Exact {
    Exact::large(one.to_large() % other.to_large())
}

/// An operator on numbers and on references to them, and its assignment.
macro_rules! operator {
    ($trait:ident $method:ident $function:ident $(, $assign:ident $assigned:ident)?) => {
        impl $trait for Exact {
            type Output = Exact;
            fn $method(self, other: Exact) -> Exact {
                $function(&self, &other)
            }
        }
        impl $trait<&Exact> for Exact {
            type Output = Exact;
            fn $method(self, other: &Exact) -> Exact {
                $function(&self, other)
            }
        }
        impl $trait<Exact> for &Exact {
            type Output = Exact;
            fn $method(self, other: Exact) -> Exact {
                $function(self, &other)
            }
        }
        impl $trait for &Exact {
            type Output = Exact;
            fn $method(self, other: &Exact) -> Exact {
                $function(self, other)
            }
        }
        $(
            impl $assign for Exact {
                fn $assigned(&mut self, other: Exact) {
                    *self = $function(self, &other);
                }
            }
            impl $assign<&Exact> for Exact {
                fn $assigned(&mut self, other: &Exact) {
                    *self = $function(self, other);
                }
            }
        )?
    };
}

operator!(Add add sum, AddAssign add_assign);
operator!(Sub sub difference, SubAssign sub_assign);
operator!(Mul mul product, MulAssign mul_assign);
operator!(Div div quotient, DivAssign div_assign);
operator!(Rem rem rest);

impl Neg for &Exact {
    type Output = Exact;

    fn neg(self) -> Exact {
        match &self.0 {
            Form::Small(above, below) => Exact(Form::Small(-above, *below)),
            Form::Large(large) => Exact(Form::Large(Box::new(-&**large))),
        }
    }
}

impl Neg for Exact {
    type Output = Self;

    fn neg(self) -> Self {
        -&self
    }
}

impl Ord for Exact {
    fn cmp(&self, other: &Self) -> Ordering {
        match (self.words(), other.words()) {
            (Some((a, b)), Some((c, d))) if b == d => a.cmp(&c),
            (Some((a, b)), Some((c, d))) => {
                (i128::from(a) * i128::from(d)).cmp(&(i128::from(c) * i128::from(b)))
            }
            _ => self.to_large().cmp(&other.to_large()),
        }
    }
}

impl PartialOrd for Exact {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Sum for Exact {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::zero(), |sum, one| sum + one)
    }
}

impl<'a> Sum<&'a Exact> for Exact {
    fn sum<I: Iterator<Item = &'a Exact>>(all: I) -> Self {
        all.fold(Self::zero(), |sum, one| sum + one)
    }
}

impl Zero for Exact {
    fn zero() -> Self {
        Self::from(0)
    }

    fn is_zero(&self) -> bool {
        self.words().is_some_and(|(above, _)| above == 0)
    }
}

impl One for Exact {
    fn one() -> Self {
        Self::from(1)
    }
}

impl Num for Exact {
    type FromStrRadixErr = ParseRatioError;

    fn from_str_radix(text: &str, radix: u32) -> Result<Self, ParseRatioError> {
        BigRational::from_str_radix(text, radix).map(Self::large)
    }
}

impl Signed for Exact {
    fn abs(&self) -> Self {
        if self.is_negative() { -self } else { self.clone() }
    }

    fn abs_sub(&self, other: &Self) -> Self {
        if self <= other { Self::zero() } else { self - other }
    }

    fn signum(&self) -> Self {
        Self::from(i64::from(self.is_positive()) - i64::from(self.is_negative()))
    }

    fn is_positive(&self) -> bool {
        match &self.0 {
            Form::Small(above, _) => *above > 0,
            Form::Large(large) => large.is_positive(),
        }
    }

    fn is_negative(&self) -> bool {
        match &self.0 {
            Form::Small(above, _) => *above < 0,
            Form::Large(large) => large.is_negative(),
        }
    }
}
