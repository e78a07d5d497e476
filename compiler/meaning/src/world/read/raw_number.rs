//! Numbers with a unit that stand in plain words, and the same with checked places.

/// A number with its unit in plain words, by bytes.
pub(super) struct Raw {
    pub(super) start: usize,
    pub(super) end: usize,
    pub(super) written: String,
    pub(super) checked: String,
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
    if !text.bytes().any(|sign| sign.is_ascii_digit()) {
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
            format!("{{{number}{blank}{}}}", with_unit.replace('\u{a0}', " "))
        };
        let (start, checked) = match range_before(&words, at, number) {
            Some((first, joint)) => (
                first.start,
                format!("{}{joint}{}", checked(first.text), checked(last(number).text)),
            ),
            None => (number.start, checked(number.text)),
        };
        let written = text.get(start..end).unwrap_or_default().to_owned();
        all.push(Raw { start, end, written, checked });
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
    let number = word.text.get(..length)?.trim_end_matches(['.', ',', '-', '–', '−']);
    if !number.contains(|sign: char| sign.is_ascii_digit()) {
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
