//! Exact rational numbers.

use num_bigint::BigInt;
use num_traits::Zero;

/// An exact rational number of any size.
pub type Exact = num_rational::BigRational;

/// Reads `12`, `-0.35`, `60000`, and a fraction of two such numbers, `5/9`; no exponent.
///
/// ```
/// use locknut_quantity::{parse_exact, to_decimal};
/// let tenth = parse_exact("0.1").unwrap();
/// assert_eq!(to_decimal(&(tenth * parse_exact("3").unwrap()), 1), "0.3");
/// ```
pub fn parse_exact(text: &str) -> Option<Exact> {
    if let Some((numerator, denominator)) = text.split_once('/') {
        let divisor = parse_exact(denominator)?;
        return if divisor.is_zero() { None } else { Some(parse_exact(numerator)? / divisor) };
    }
    let (sign, digits) = match text.strip_prefix('-') {
        Some(rest) => (-1, rest),
        None => (1, text.strip_prefix('+').unwrap_or(text)),
    };
    let (whole, fraction) = digits.split_once('.').unwrap_or((digits, ""));
    let all_digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    if whole.is_empty() || !all_digits(whole) || !all_digits(fraction) {
        return None;
    }
    let numerator: BigInt = format!("{whole}{fraction}").parse().ok()?;
    let scale = BigInt::from(10).pow(u32::try_from(fraction.len()).ok()?);
    Some(Exact::new(numerator * sign, scale))
}

/// The number with so many digits after the point, rounded to nearest, half to even.
pub fn to_decimal(value: &Exact, decimals: u32) -> String {
    crate::show::decimal(value, decimals, crate::Rounding::Nearest)
}
