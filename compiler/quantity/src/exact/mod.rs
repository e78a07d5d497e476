//! Exact numbers: a fraction of two machine words as long as both fit, and of whole numbers of any size where not.

mod arithmetic;
mod text;

pub use text::{grouped, parse_exact, to_decimal, to_decimal_beside, to_digits};

use num_bigint::BigInt;
use num_integer::Integer as _;
use num_rational::BigRational;
use num_traits::{One as _, Signed as _, ToPrimitive, Zero as _};
use std::fmt;
use std::num::NonZeroI64;
use std::str::FromStr;

const ONE: NonZeroI64 = match NonZeroI64::new(1) {
    Some(one) => one,
    None => NonZeroI64::MAX,
};

/// An exact rational number of any size, always in its lowest terms, its denominator above zero.
///
/// Nearly every figure of a workshop fits two machine words, and is reckoned with in them; the result never depends on
/// which of the two it is kept in.
#[derive(Clone, PartialEq, Eq, Hash)]
pub struct Exact(Form);

/// INVARIANT: what fits is `Small`, so that equal numbers are equal forms. `i64::MIN` does not count as fitting, so that
/// every sign can be turned.
#[derive(Clone, PartialEq, Eq, Hash)]
enum Form {
    Small(i64, NonZeroI64),
    Large(Box<BigRational>),
}

impl Exact {
    /// A fraction of two whole numbers.
    pub fn new(above: BigInt, below: BigInt) -> Self {
        match (above.to_i64(), below.to_i64()) {
            (Some(above), Some(below)) => Self::of(above.into(), below.into()),
            _ => Self::large(BigRational::new(above, below)),
        }
    }

    /// A whole number.
    pub fn from_integer(whole: BigInt) -> Self {
        match whole.to_i64() {
            Some(word) => word.into(),
            None => Self::large(BigRational::from_integer(whole)),
        }
    }

    /// What stands above the line.
    pub fn numer(&self) -> BigInt {
        match &self.0 {
            Form::Small(above, _) => (*above).into(),
            Form::Large(large) => large.numer().clone(),
        }
    }

    /// What stands below the line.
    pub fn denom(&self) -> BigInt {
        match &self.0 {
            Form::Small(_, below) => below.get().into(),
            Form::Large(large) => large.denom().clone(),
        }
    }

    /// Whether it is a whole number.
    pub fn is_integer(&self) -> bool {
        match &self.0 {
            Form::Small(_, below) => below.get() == 1,
            Form::Large(large) => large.is_integer(),
        }
    }

    /// The nearest whole number that is not above it.
    #[must_use]
    pub fn floor(&self) -> Self {
        match &self.0 {
            Form::Small(above, below) => Self::of(above.div_floor(&below.get()).into(), 1),
            Form::Large(large) => Self::large(large.floor()),
        }
    }

    /// The nearest whole number that is not below it.
    #[must_use]
    pub fn ceil(&self) -> Self {
        -(-self).floor()
    }

    /// The nearest whole number, halves away from zero.
    #[must_use]
    pub fn round(&self) -> Self {
        Self::large(self.to_large().round())
    }

    /// Its whole part, towards zero.
    pub fn to_integer(&self) -> BigInt {
        match &self.0 {
            Form::Small(above, below) => (above / below.get()).into(),
            Form::Large(large) => large.to_integer(),
        }
    }

    /// One divided by it.
    #[must_use]
    pub fn recip(&self) -> Self {
        Self::one() / self
    }

    /// The two words that it is a fraction of; none where they do not fit.
    pub(crate) fn words(&self) -> Option<(i64, i64)> {
        match self.0 {
            Form::Small(above, below) => Some((above, below.get())),
            Form::Large(_) => None,
        }
    }

    /// A fraction of two numbers that are shorter than a double word by a digit.
    fn of(above: i128, below: i128) -> Self {
        let (above, below) = if below < 0 { (-above, -below) } else { (above, below) };
        let (above, below) = lowest(above, below);
        let small = |word: i128| i64::try_from(word).ok().filter(|word| *word != i64::MIN);
        match (small(above), small(below).and_then(NonZeroI64::new)) {
            (Some(above), Some(below)) => Self(Form::Small(above, below)),
            // A fraction of nothing is refused there.
            _ => Self(Form::Large(Box::new(BigRational::new(above.into(), below.into())))),
        }
    }

    fn large(large: BigRational) -> Self {
        let small = |part: &BigInt| part.to_i64().filter(|word| *word != i64::MIN);
        match (small(large.numer()), small(large.denom()).and_then(NonZeroI64::new)) {
            (Some(above), Some(below)) => Self(Form::Small(above, below)),
            _ => Self(Form::Large(Box::new(large))),
        }
    }

    fn to_large(&self) -> BigRational {
        match &self.0 {
            Form::Small(above, below) => BigRational::new_raw((*above).into(), below.get().into()),
            Form::Large(large) => (**large).clone(),
        }
    }
}

/// A fraction in its lowest terms; `below` is not less than zero.
fn lowest(above: i128, below: i128) -> (i128, i128) {
    if below == 1 || below == 0 {
        return (above, below);
    }
    // Single words cost a fraction of double ones.
    let words = (u64::try_from(above.unsigned_abs()), u64::try_from(below.unsigned_abs()));
    let common = match words {
        (Ok(above), Ok(below)) => i128::from(above.gcd(&below)),
        _ => above.gcd(&below),
    };
    if common == 1 { (above, below) } else { (above / common, below / common) }
}

impl From<i64> for Exact {
    fn from(whole: i64) -> Self {
        if whole == i64::MIN {
            return Self::large(BigRational::from_integer(whole.into()));
        }
        Self(Form::Small(whole, ONE))
    }
}

impl fmt::Display for Exact {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.0 {
            Form::Small(above, below) => {
                let above = above.unsigned_abs();
                let text =
                    if *below == ONE { above.to_string() } else { format!("{above}/{below}") };
                out.pad_integral(!self.is_negative(), "", &text)
            }
            Form::Large(large) => large.fmt(out),
        }
    }
}

impl fmt::Debug for Exact {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, out)
    }
}

impl FromStr for Exact {
    type Err = num_rational::ParseRatioError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        text.parse().map(Self::large)
    }
}

impl ToPrimitive for Exact {
    fn to_i64(&self) -> Option<i64> {
        self.to_integer().to_i64()
    }

    fn to_u64(&self) -> Option<u64> {
        self.to_integer().to_u64()
    }

    fn to_i128(&self) -> Option<i128> {
        self.to_integer().to_i128()
    }

    fn to_u128(&self) -> Option<u128> {
        self.to_integer().to_u128()
    }

    fn to_f64(&self) -> Option<f64> {
        self.to_large().to_f64()
    }
}

impl Default for Exact {
    fn default() -> Self {
        Self::zero()
    }
}

#[cfg(test)]
mod tests {
    use super::{Exact, Form};
    use num_bigint::BigInt;
    use num_rational::BigRational;
    use num_traits::{Signed, ToPrimitive, Zero};
    use proptest::prelude::*;
    use std::hash::{DefaultHasher, Hash, Hasher};

    /// Near nought, of any size, and where a word ends.
    fn word() -> impl Strategy<Value = i64> {
        prop_oneof![-50_i64..50, any::<i64>(), i64::MIN..i64::MIN + 3, i64::MAX - 3..=i64::MAX]
    }

    /// A number, and the same as a fraction of any size.
    fn number() -> impl Strategy<Value = (Exact, BigRational)> {
        let below = word().prop_filter("nothing is divided by nought", |below| *below != 0);
        (word(), below, word(), any::<bool>()).prop_map(|(above, below, by, long)| {
            let above = BigInt::from(above) * BigInt::from(if long { by } else { 1 });
            let below = BigInt::from(below);
            (Exact::new(above.clone(), below.clone()), BigRational::new(above, below))
        })
    }

    fn same(one: &Exact, other: &BigRational) -> bool {
        let fits = |part: &BigInt| part.to_i64().is_some_and(|word| word != i64::MIN);
        let small = fits(other.numer()) && fits(other.denom());
        one.numer() == *other.numer()
            && one.denom() == *other.denom()
            && matches!(one.0, Form::Small(..)) == small
            && one.to_string() == other.to_string()
            && one.to_string().parse().as_ref() == Ok(one)
    }

    fn hash(one: &Exact) -> u64 {
        let mut hasher = DefaultHasher::new();
        one.hash(&mut hasher);
        hasher.finish()
    }

    proptest! {
        #[test]
        fn it_reckons_as_fractions_of_any_size_do((a, x) in number(), (b, y) in number()) {
            prop_assert!(same(&a, &x) && same(&b, &y));
            prop_assert!(same(&(&a + &b), &(&x + &y)));
            prop_assert!(same(&(&a - &b), &(&x - &y)));
            prop_assert!(same(&(&a * &b), &(&x * &y)));
            if !b.is_zero() {
                prop_assert!(same(&(&a / &b), &(&x / &y)));
                prop_assert!(same(&(&a % &b), &(&x % &y)));
                prop_assert!(same(&b.recip(), &y.recip()));
            }
            prop_assert_eq!(a.cmp(&b), x.cmp(&y));
            prop_assert_eq!(a == b, x == y);
            let back = &(&a + &b) - &b;
            prop_assert!(back == a && hash(&back) == hash(&a));
        }

        #[test]
        fn it_is_rounded_and_told_as_fractions_of_any_size_are((a, x) in number()) {
            prop_assert!(same(&a.floor(), &x.floor()) && same(&a.ceil(), &x.ceil()));
            prop_assert!(same(&a.round(), &x.round()) && same(&a.abs(), &x.abs()));
            prop_assert!(same(&-&a, &-&x) && same(&a.signum(), &x.signum()));
            prop_assert_eq!(a.to_integer(), x.to_integer());
            prop_assert_eq!(a.is_integer(), x.is_integer());
            prop_assert_eq!(a.is_zero(), x.is_zero());
            prop_assert_eq!((a.is_positive(), a.is_negative()), (x.is_positive(), x.is_negative()));
            prop_assert_eq!((a.to_i64(), a.to_u64()), (x.to_i64(), x.to_u64()));
            prop_assert_eq!(a.to_f64().map(f64::to_bits), x.to_f64().map(f64::to_bits));
            prop_assert_eq!(format!("{a:>9}"), format!("{x:>9}"));
        }
    }
}
