//! Numbers with a unit that stand in plain words, and the same with checked places.

use locknut_quantity::{parse_exact, to_decimal};
use num_traits::Zero;

/// A number with its unit in plain words, by bytes.
pub(super) struct Raw {
    pub(super) start: usize,
    pub(super) end: usize,
    pub(super) written: String,
    pub(super) checked: String,
    /// Its unit, where no word stands behind it.
    pub(super) bare: Option<String>,
}

/// A piece of text by bytes.
#[derive(Clone, Copy)]
struct Stretch<'a> {
    start: usize,
    text: &'a str,
}

impl Stretch<'_> {
    fn end(&self) -> usize {
        self.start + self.text.len()
    }
}

/// Every `12 mm`, `45°`, `2.5 bar gauge`, `8 to 12 mm`, `8–12 mm` in a text.
pub(super) fn raw_numbers(text: &str, is_unit: impl Fn(&str, Option<&str>) -> bool) -> Vec<Raw> {
    let mut all = Vec::new();
    if !text.contains(is_figure) {
        return all;
    }
    let words = stretches(text);
    for (at, word) in words.iter().enumerate() {
        let Some((number, unit)) = split_number(*word) else { continue };
        let unit = match (unit, words.get(at + 1)) {
            (Some(glued), _) => Some(glued),
            (None, Some(next)) => Some(*next),
            (None, None) => None,
        };
        let Some(unit) = unit.and_then(|unit| unit_in(unit, &is_unit)) else { continue };
        let after = words.iter().find(|next| next.start > unit.end());
        let qualifier = after
            .map(|next| Stretch { text: next.text.trim_end_matches(PUNCTUATION), ..*next })
            .filter(|next| {
                ["gauge", "absolute"].contains(&next.text) && unit.end() + 1 == next.start
            })
            .filter(|next| is_unit(unit.text, Some(next.text)));
        let end = qualifier.map_or(unit.end(), |word| word.end());
        let with_unit = text.get(number.end()..end).unwrap_or_default();
        let checked = |number: &str| {
            let blank = if with_unit.starts_with([' ', '\u{a0}', '°', '\n']) { "" } else { " " };
            // A text may write a decimal comma, a checked place has the point of the language.
            let number = number.replace(',', ".");
            let number = decimal(&number).unwrap_or(number);
            format!("{{{number}{blank}{}}}", with_unit.replace('\u{a0}', " "))
        };
        let (start, checked) = if let Some((first, joint)) = range_before(&words, at, number) {
            let both = format!("{}{joint}{}", checked(first.text), checked(last(number).text));
            (first.start, both)
        } else {
            let all = with_whole(text, &words, at, number);
            (all.start, checked(all.text))
        };
        let written = text.get(start..end).unwrap_or_default().to_owned();
        let bare = qualifier.is_none().then(|| unit.text.to_owned());
        all.push(Raw { start, end, written, checked, bare });
    }
    all
}

const PUNCTUATION: &[char] = &['.', ',', ';', ':', '!', '?', ')', ']', '”', '"', '\''];

fn stretches(text: &str) -> Vec<Stretch<'_>> {
    let is_blank = |sign: char| sign.is_whitespace();
    let mut all = Vec::new();
    let mut start = 0;
    for piece in text.split(is_blank) {
        if !piece.is_empty() {
            let lead = piece.len() - piece.trim_start_matches(['(', '[', '“', '"', '\'']).len();
            all.push(Stretch { start: start + lead, text: piece.get(lead..).unwrap_or_default() });
        }
        // Blanks of more than one byte (a non-breaking one) count by their own length.
        start += piece.len();
        start += text.get(start..).and_then(|rest| rest.chars().next()).map_or(0, char::len_utf8);
    }
    all
}

/// `12`, `12mm`, `8–12`, `45°.`: the number at a word's beginning, and what is glued to it.
fn split_number(word: Stretch<'_>) -> Option<(Stretch<'_>, Option<Stretch<'_>>)> {
    let is_number = |sign: char| {
        sign.is_ascii_digit() || matches!(sign, '.' | ',' | '-' | '−' | '–' | '+' | '±')
    };
    let length = word.text.find(|sign| !is_number(sign)).unwrap_or(word.text.len());
    let length = fraction_in(word.text, length).unwrap_or(length);
    let number = word.text.get(..length)?.trim_end_matches(['.', ',', '-', '–', '−']);
    if !number.contains(is_figure) {
        return None;
    }
    let rest = word.text.get(length..)?;
    let ends_sentence = number.len() < length;
    if rest.is_empty() && ends_sentence {
        return None;
    }
    let number = Stretch { start: word.start, text: number };
    let glued = (!rest.is_empty()).then_some(Stretch { start: word.start + length, text: rest });
    Some((number, glued))
}

/// Signs that are a fraction by themselves.
const FRACTIONS: &[(char, &str)] = &[
    ('½', "1/2"),
    ('¼', "1/4"),
    ('¾', "3/4"),
    ('⅛', "1/8"),
    ('⅜', "3/8"),
    ('⅝', "5/8"),
    ('⅞', "7/8"),
];

fn is_figure(sign: char) -> bool {
    sign.is_ascii_digit()
        || !sign.is_ascii() && FRACTIONS.iter().any(|(fraction, _)| *fraction == sign)
}

/// How far a fraction reaches that a word begins with: `1/2` of `1/2"`, `1½`.
fn fraction_in(word: &str, digits: usize) -> Option<usize> {
    let (whole, rest) = word.split_at_checked(digits)?;
    if !whole.chars().all(|sign| sign.is_ascii_digit()) {
        return None;
    }
    let next = rest.chars().next()?;
    if FRACTIONS.iter().any(|(sign, _)| *sign == next) {
        return Some(digits + next.len_utf8());
    }
    let below = rest.strip_prefix('/').filter(|_| !whole.is_empty())?;
    let length = below.find(|sign: char| !sign.is_ascii_digit()).unwrap_or(below.len());
    (length > 0).then_some(digits + 1 + length)
}

/// `1 1/2` of which only the fraction was read.
fn with_whole<'a>(
    text: &'a str,
    words: &[Stretch<'a>],
    at: usize,
    number: Stretch<'a>,
) -> Stretch<'a> {
    let begins =
        number.text.contains('/') || number.text.starts_with(|sign: char| !sign.is_ascii());
    let whole = at.checked_sub(1).and_then(|before| words.get(before)).filter(|whole| {
        begins
            && whole.end() + 1 == number.start
            && whole.text.chars().all(|sign| sign.is_ascii_digit())
    });
    let all = whole.and_then(|whole| {
        Some(Stretch { start: whole.start, text: text.get(whole.start..number.end())? })
    });
    all.unwrap_or(number)
}

/// A fraction as a checked place has it: `1.5` for `1 1/2`; none of what is none, or does not come out even.
fn decimal(number: &str) -> Option<String> {
    let mut plain = number.to_owned();
    for (sign, fraction) in FRACTIONS {
        plain = plain.replace(*sign, &format!(" {fraction}"));
    }
    let mut parts = plain.split_whitespace();
    let (first, second) = (parts.next()?, parts.next());
    let (whole, fraction) = second.map_or(("0", first), |second| (first, second));
    let (above, below) = fraction.split_once('/')?;
    let (above, below) = (parse_exact(above)?, parse_exact(below)?);
    if below.is_zero() {
        return None;
    }
    let value = parse_exact(whole)? + above / below;
    let digits = (0..=6)
        .find(|digits| parse_exact(&to_decimal(&value, *digits)).as_ref() == Some(&value))?;
    Some(to_decimal(&value, digits))
}

/// The longest beginning of a word that is a unit: `mm.` is `mm`, `V/24` is `V`.
fn unit_in<'a>(
    word: Stretch<'a>,
    is_unit: &impl Fn(&str, Option<&str>) -> bool,
) -> Option<Stretch<'a>> {
    let mut text = word.text.trim_end_matches(PUNCTUATION);
    // A unit spelled with letters has a few; longer words are no units.
    for _ in 0..4 {
        if text.is_empty() || text.len() > 24 {
            return None;
        }
        if is_unit(text, None) {
            return Some(Stretch { start: word.start, text });
        }
        let cut = text.rfind(|sign: char| !sign.is_alphanumeric())?;
        text = text.get(..cut)?;
    }
    None
}

/// `8 to` before `12 mm`, `8–` in `8–12 mm`: the first number and what joins them.
fn range_before<'a>(
    words: &[Stretch<'a>],
    at: usize,
    number: Stretch<'a>,
) -> Option<(Stretch<'a>, &'static str)> {
    if let Some(dash) = number.text.find(['–', '-']).filter(|dash| *dash > 0) {
        return Some((Stretch { start: number.start, text: number.text.get(..dash)? }, " to "));
    }
    let joint = words.get(at.checked_sub(1)?)?;
    let joint = match joint.text {
        "to" => " to ",
        "and" => " and ",
        "or" => " or ",
        _ => return None,
    };
    let first = words.get(at.checked_sub(2)?)?;
    let is_plain = first.text.chars().all(|sign| sign.is_ascii_digit() || sign == '.');
    (is_plain && first.text.starts_with(|sign: char| sign.is_ascii_digit()))
        .then_some((*first, joint))
}

/// `12` of `8–12`.
fn last(number: Stretch<'_>) -> Stretch<'_> {
    match number.text.rfind(['–', '-']).filter(|dash| *dash > 0) {
        Some(dash) => {
            let text = number.text.get(dash..).unwrap_or_default().trim_start_matches(['–', '-']);
            Stretch { start: number.end() - text.len(), text }
        }
        None => number,
    }
}
