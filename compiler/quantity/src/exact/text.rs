//! Exact numbers from their text, and into decimal text.

use super::Exact;
use crate::round::{Rounding, digits, first_place, ten_to};
use num_traits::Zero;

/// A longer text is no number of any workshop, and would only cost time.
const LONGEST: usize = 10_000;
/// So many digits more tell a number from one that lies near it, or none does.
const MORE: u32 = 6;

/// Reads `12`, `-0.35`, `60000`, and a fraction of two such numbers, `5/9`; no exponent.
///
/// A sign is `-`, `−` or `+`. Blanks between digits are taken out before, by whoever knows how the
/// author groups them.
///
/// ```
/// use locknut_quantity::{parse_exact, to_decimal};
/// let tenth = parse_exact("0.1").unwrap();
/// assert_eq!(to_decimal(&(tenth * parse_exact("3").unwrap()), 1), "0.3");
/// ```
pub fn parse_exact(text: &str) -> Option<Exact> {
    if text.len() > LONGEST {
        return None;
    }
    let Some((above, below)) = text.split_once('/') else { return decimal_number(text) };
    let below = decimal_number(below).filter(|below| !below.is_zero())?;
    Some(decimal_number(above)? / below)
}

fn decimal_number(text: &str) -> Option<Exact> {
    let (negative, unsigned) = match text.strip_prefix(['-', '\u{2212}']) {
        Some(rest) => (true, rest),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    };
    let (whole, fraction) = unsigned.split_once('.').unwrap_or((unsigned, ""));
    let all_digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    if whole.is_empty() || !all_digits(whole) || !all_digits(fraction) {
        return None;
    }
    let figures = match in_a_word(whole, fraction) {
        Some(word) => Exact::from(word),
        None => Exact::from_integer(format!("{whole}{fraction}").parse().ok()?),
    };
    let value = if fraction.is_empty() {
        figures
    } else {
        figures / ten_to(i64::try_from(fraction.len()).ok()?)
    };
    Some(if negative { -value } else { value })
}

/// The digits of both parts as one number, where a word holds it.
fn in_a_word(whole: &str, fraction: &str) -> Option<i64> {
    let mut digits = whole.bytes().chain(fraction.bytes()).map(|digit| digit - b'0');
    digits.try_fold(0_i64, |all, digit| all.checked_mul(10)?.checked_add(i64::from(digit)))
}

/// A blank at which no line breaks.
const NBSP: char = '\u{a0}';

/// Digits of a whole number in groups of three, from five digits on: the one rule of every output.
///
/// ```
/// use locknut_quantity::grouped;
/// assert_eq!(grouped("1234567").split('\u{a0}').collect::<Vec<_>>(), ["1", "234", "567"]);
/// assert_eq!(grouped("1234"), "1234");
/// ```
pub fn grouped(whole: &str) -> String {
    let mut text = String::new();
    for (place, digit) in whole.chars().enumerate() {
        if whole.len() >= 5 && place > 0 && (whole.len() - place).is_multiple_of(3) {
            text.push(NBSP);
        }
        text.push(digit);
    }
    text
}

/// The number with so many digits after the point, rounded to nearest, half to even.
pub fn to_decimal(value: &Exact, decimals: u32) -> String {
    let rounded = Rounding::Nearest.to_place(value, -i64::from(decimals));
    digits(&rounded, decimals)
}

/// The same, with up to six digits more where rounding would else take it to one of some values, or past it: what is
/// 45.14 is not shown as 45 where 45 is the limit.
///
/// ```
/// use locknut_quantity::{parse_exact, to_decimal_beside};
/// let limit = [parse_exact("45").unwrap()];
/// assert_eq!(to_decimal_beside(&parse_exact("316/7").unwrap(), 0, &limit), "45.1");
/// assert_eq!(to_decimal_beside(&parse_exact("45").unwrap(), 0, &limit), "45");
/// ```
pub fn to_decimal_beside(value: &Exact, decimals: u32, others: &[Exact]) -> String {
    let apart = |decimals: &u32| {
        let rounded = Rounding::Nearest.to_place(value, -i64::from(*decimals));
        others.iter().all(|other| rounded.cmp(other) == value.cmp(other))
    };
    let enough = (decimals..=decimals.saturating_add(MORE)).find(apart);
    to_decimal(value, enough.unwrap_or(decimals.saturating_add(MORE)))
}

/// The number with so many digits at most, rounded to nearest; whole digits all stay, and noughts at
/// the end go.
///
/// ```
/// use locknut_quantity::{parse_exact, to_digits};
/// assert_eq!(to_digits(&parse_exact("0.30480").unwrap(), 6), "0.3048");
/// assert_eq!(to_digits(&parse_exact("1/30000").unwrap(), 3), "0.0000333");
/// assert_eq!(to_digits(&parse_exact("1234.5").unwrap(), 2), "1234");
/// ```
pub fn to_digits(value: &Exact, digits: u32) -> String {
    let first = first_place(value).unwrap_or(0);
    let decimals = (i64::from(digits) - 1 - first).max(0);
    let all = to_decimal(value, u32::try_from(decimals).unwrap_or(u32::MAX));
    if !all.contains('.') {
        return all;
    }
    all.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::{LONGEST, parse_exact, to_decimal, to_decimal_beside};
    use crate::Exact;

    #[test]
    fn numbers_as_they_are_written() {
        for (text, above, below) in
            [("12", 12, 1), ("-0.35", -7, 20), ("\u{2212}5", -5, 1), ("+0.1", 1, 10), ("5/9", 5, 9)]
        {
            let number = parse_exact(text).unwrap();
            assert_eq!(number, super::Exact::new(above.into(), below.into()), "{text}");
        }
    }

    #[test]
    fn what_is_no_number_is_refused() {
        let long = "1".repeat(LONGEST + 1);
        for text in ["", "-", ".5", "1.2.3", "1e3", "0,35", "1/0", "1/2/3", "--1", " 1", &long] {
            assert_eq!(parse_exact(text), None, "{text}");
        }
    }

    #[test]
    fn halves_go_to_the_even_neighbour_and_nothing_is_minus_zero() {
        for (number, decimals, wanted) in
            [("0.125", 2, "0.12"), ("0.375", 2, "0.38"), ("-0.04", 1, "0.0"), ("-2.5", 0, "-2")]
        {
            assert_eq!(to_decimal(&parse_exact(number).unwrap(), decimals), wanted);
        }
    }

    #[test]
    fn a_figure_is_shown_on_the_side_of_its_limit() {
        let exact = |number: i64, of: i64| Exact::new(number.into(), of.into());
        for number in -200..200 {
            for of in 1..16 {
                let value = exact(number, of);
                let limits = [exact(number / of, 1), exact(number, 10), exact(number / of + 1, 1)];
                let shown = parse_exact(&to_decimal_beside(&value, 0, &limits)).unwrap();
                for limit in &limits {
                    assert_eq!(shown.cmp(limit), value.cmp(limit), "{value}: {shown} at {limit}");
                }
            }
        }
    }
}
