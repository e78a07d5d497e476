//! What the terminal asks and answers, in the words of the sheet.

use super::words::Words;
use locknut_job::{Ask, Refused};
use locknut_sheet::{Field, Line, LineKind};

/// What is asked for.
pub(super) fn prompt(ask: &Ask, words: &Words) -> String {
    let word = |key: &str| words.word(key).to_owned();
    match ask {
        Ask::Series { values, .. } => format!("{}  {}", word("which-series"), numbered(values)),
        Ask::Serial { .. } => format!("{}:", word("which-serial")),
        Ask::Tick { .. } => word("when-done"),
        Ask::Wait { .. } => word("when-waited"),
        Ask::Numbers { .. } => {
            let asked: Vec<String> = fields(words.line(ask)).iter().map(asked).collect();
            format!("{}: {}", word("type-values"), asked.join(", "))
        }
        // As the sheet says them; each may be typed as the source spells it, too.
        Ask::Answers { answers, .. } => match words.line(ask).map(|line| &line.kind) {
            Some(LineKind::Answers(said)) => numbered(said),
            _ => numbered(answers),
        },
        Ask::Text { .. } => format!("{}:", word("type-text")),
        Ask::Result { .. } => word("when-result"),
        Ask::Child { node, children, .. } => {
            let said: Vec<String> =
                children.iter().map(|child| words.child(*node, *child)).collect();
            format!("{}  {}", word("which-next"), numbered(&said))
        }
        Ask::Ended { .. } => String::new(),
    }
}

/// In brackets: what is numbered may begin with a number of its own.
fn numbered(all: &[String]) -> String {
    let all = (1..).zip(all).map(|(number, text): (usize, _)| format!("[{number}] {text}"));
    all.collect::<Vec<_>>().join("   ")
}

fn fields(line: Option<&Line>) -> &[Field] {
    match line.map(|line| &line.kind) {
        Some(LineKind::Fields(fields)) => fields,
        _ => &[],
    }
}

/// `left (mm)`; what is counted has no unit.
fn asked(field: &Field) -> String {
    if field.unit.is_empty() {
        field.label.clone()
    } else {
        format!("{} ({})", field.label, field.unit)
    }
}

/// What was worked out or chosen: `= 1,25 mm`.
pub(super) fn result(ask: &Ask, words: &Words, digits: &str) -> String {
    let told = with_sign(digits, words.word("decimal-sign"));
    let plain = digits.chars().all(|sign| sign.is_ascii_digit() || ".-".contains(sign));
    match words.line(ask).map(|line| &line.kind) {
        // A size that is chosen carries its unit, and whatever stands on it.
        Some(LineKind::Computed { field, .. }) if plain => {
            format!("= {told} {}", field.unit).trim_end().to_owned()
        }
        _ => format!("= {told}"),
    }
}

/// A part number in brackets stays as it stands on the part.
fn with_sign(text: &str, sign: &str) -> String {
    let mut depth = 0_usize;
    let mut said = String::new();
    for letter in text.chars() {
        match letter {
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            _ => {}
        }
        if letter == '.' && depth == 0 { said.push_str(sign) } else { said.push(letter) }
    }
    said
}

/// Why an answer was not taken.
pub(super) fn refused(refused: &Refused, words: &Words) -> String {
    let word = |key: &str| words.word(key);
    match refused {
        Refused::NotANumber { text } => format!("“{text}” {}", word("not-a-number")),
        Refused::NotShown { text, range, .. } => {
            format!("{text}: {} ({range})", word("not-in-range"))
        }
        Refused::NotExpected { text, range } => {
            format!("{text}: {} ({range})", word("not-expected"))
        }
        Refused::Undecided => word("undecided").to_owned(),
        Refused::UndecidedHere => word("undecided-here").to_owned(),
        Refused::SignedAs { name, role, .. } => {
            format!("{name}: {} ({})", word("signed-as"), words.role(role, role))
        }
        Refused::Count { wanted, given } => {
            format!("{wanted}: {} ({given})", word("values-wanted"))
        }
        Refused::NoAnswer => word("not-an-answer").to_owned(),
        Refused::Missing => word("missing").to_owned(),
        Refused::NotFor => word("not-for").to_owned(),
    }
}
