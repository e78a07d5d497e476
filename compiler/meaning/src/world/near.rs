//! "Did you mean": the known name that is spelled nearly like another.

/// Names longer than this are not compared: nobody mistypes them into something known.
const LONGEST: usize = 64;
/// So many candidates of like length are compared at most, so that a broken file of thousands of
/// names costs no minutes.
const MOST: usize = 400;

/// The nearest of some known names, where one is near enough to be meant.
pub(crate) fn nearest<'a>(name: &str, known: impl IntoIterator<Item = &'a str>) -> Option<String> {
    let length = name.chars().count();
    if length > LONGEST {
        return None;
    }
    let reach = (length / 3).clamp(1, 3);
    let lowered = name.to_lowercase();
    known
        .into_iter()
        .filter(|other| *other != name && other.chars().count().abs_diff(length) <= reach)
        .take(MOST)
        .map(|other| (strsim::damerau_levenshtein(&lowered, &other.to_lowercase()), other))
        .filter(|(distance, _)| *distance <= reach && *distance < length)
        .min()
        .map(|(_, other)| other.to_owned())
}

/// `on rectangle 3x2` with the blanks that part a number from what follows it; none where none are missing.
pub(super) fn blanks_round_x(written: &str) -> Option<String> {
    let is_digit = |sign: Option<char>| sign.is_some_and(|sign| sign.is_ascii_digit());
    let mut parted = String::new();
    let mut rest = written.chars().peekable();
    let mut any = false;
    while let Some(sign) = rest.next() {
        if sign == 'x' && is_digit(parted.chars().next_back()) && is_digit(rest.peek().copied()) {
            parted.push_str(" x ");
            any = true;
        } else {
            parted.push(sign);
        }
    }
    any.then_some(parted)
}
