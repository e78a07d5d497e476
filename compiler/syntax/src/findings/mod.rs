//! What can be wrong with the writing of a file.

#![expect(
    clippy::wildcard_enum_match_arm,
    reason = "of the grammar's many rules only a few are told"
)]

mod braces;
mod expected;
mod head;
mod ln001_unreadable_line;
mod ln002_unclosed_brace;
mod ln003_unclosed_text;
mod ln004_too_deep;
mod ln005_decimal_comma;
mod ln006_no_blank;
mod ln007_not_yet;
mod ln008_control_sign;
mod ln009_unreadable_declaration;
mod ln010_accept_and_arms;
mod scan;
mod slips;

pub(crate) use ln001_unreadable_line::UnreadableLine;
pub(crate) use ln002_unclosed_brace::UnclosedBrace;
pub(crate) use ln003_unclosed_text::{Lacks, UnclosedText};
pub(crate) use ln004_too_deep::{Deep, TooDeep};
pub(crate) use ln005_decimal_comma::DecimalComma;
pub(crate) use ln006_no_blank::NoBlank;
pub(crate) use ln007_not_yet::NotYet;
pub(crate) use ln008_control_sign::ControlSign;
pub(crate) use ln009_unreadable_declaration::UnreadableDeclaration;
pub(crate) use ln010_accept_and_arms::AcceptAndArms;
pub(crate) use scan::before_reading;

use crate::grammar::{Grammar, Rule};
use crate::words::{DECLARATIONS, ITEMS, MODEL_ITEMS, NOT_YET, TEMPLATE_LINES, near};
use locknut_finding::{Finding, Findings, Page, Span};
use pest::Parser;

/// The pages of this crate's codes.
pub const PAGES: &[Page] = &[
    UnreadableLine::PAGE,
    UnclosedBrace::PAGE,
    UnclosedText::PAGE,
    TooDeep::PAGE,
    DecimalComma::PAGE,
    NoBlank::PAGE,
    NotYet::PAGE,
    ControlSign::PAGE,
    UnreadableDeclaration::PAGE,
    AcceptAndArms::PAGE,
];

/// Says what is wrong with a piece that fits no rule. `error` tells how far it fits when it is read
/// alone.
pub(crate) fn unreadable(
    source: &str,
    span: Span,
    alone: Rule,
    error: Option<&pest::error::Error<Rule>>,
    found: &mut Findings,
) {
    let piece = source.get(span.range()).unwrap_or("");
    let first: String =
        piece.chars().take_while(|sign| sign.is_alphanumeric() || *sign == '-').collect();
    let first_span = part(span, 0, first.len().max(1));
    if let Some((word, what)) = NOT_YET.iter().find(|(word, _)| *word == first) {
        found.add(&NotYet { place: first_span, word, what });
        return;
    }
    let at = error.map_or(0, |error| match error.location {
        pest::error::InputLocation::Pos(at) | pest::error::InputLocation::Span((at, _)) => at,
    });
    if let Some(minus) = sticking_minus(piece) {
        found.add(&NoBlank { place: part(span, minus, 1) });
        return;
    }
    if piece.contains("accept ") && piece.contains("->") {
        let arrow = piece.find("->").unwrap_or(0);
        found.add(&AcceptAndArms { place: part(span, arrow, 2), reading: first_span });
        return;
    }
    if alone == Rule::only_declaration
        && let Some(headed) = head::fault(piece, span)
    {
        found.add(&headed);
        return;
    }
    let comment = first.is_empty() && slips::mend(line_at(piece, 0)).is_some();
    if alone == Rule::only_declaration && at <= first.len() && !comment {
        let meant = near(&first, DECLARATIONS.iter().copied()).map(str::to_owned);
        found.add(&UnreadableDeclaration { place: first_span, word: first, meant });
        return;
    }
    let unreadable = line(piece, span, at, &first, alone, error);
    let late = late_substitute(piece).filter(|late| {
        let between = piece.get(at..*late).unwrap_or(piece);
        between.trim().chars().all(|sign| sign == '"')
    });
    if let Some(late) = late {
        found.add(&UnreadableLine {
            place: part(span, late, "or".len()),
            word: "“or”".to_owned(),
            expected: "the closing brace: `otherwise` is the last line".to_owned(),
            mend: "move it up: what stands in for the instrument comes behind `accept`, ahead of `otherwise`",
            ..unreadable
        });
        return;
    }
    found.add(&unreadable);
}

/// Where a substitute stands behind the `otherwise` of its line.
fn late_substitute(piece: &str) -> Option<usize> {
    let (mut at, mut behind) = (0, false);
    for line in piece.split_inclusive('\n') {
        let code = line.trim_start();
        if behind && ["or using ", "or measure "].iter().any(|words| code.starts_with(words)) {
            return Some(at + line.len() - code.len());
        }
        behind |= code.starts_with("otherwise ");
        at += line.len();
    }
    None
}

fn line(
    piece: &str,
    span: Span,
    at: usize,
    first: &str,
    alone: Rule,
    error: Option<&pest::error::Error<Rule>>,
) -> UnreadableLine {
    let rest = piece.get(at..).unwrap_or("");
    let skipped = rest.len() - rest.trim_start().len();
    let word: String = rest
        .trim_start()
        .chars()
        .take_while(|sign| !sign.is_whitespace() && *sign != ',')
        .collect();
    let known: Vec<&str> = match alone {
        Rule::only_model_item => MODEL_ITEMS.to_vec(),
        Rule::only_declaration => DECLARATIONS.to_vec(),
        Rule::only_template_line => TEMPLATE_LINES.to_vec(),
        _ => ITEMS.to_vec(),
    };
    let meant = meant(first, &known, alone, at <= first.len());
    let habit = slips::mend(line_at(piece, at)).or_else(|| slips::mend(line_at(piece, 0)));
    let form = head::CLAUSES.iter().find(|(clause, _)| *clause == word).map(|(_, form)| *form);
    let expected = match form {
        Some(form) => form.to_owned(),
        // What could stand there instead helps nobody who writes as elsewhere.
        None if habit.is_some() => String::new(),
        None => error.map(expected::words).unwrap_or_default(),
    };
    let clause_word = Grammar::parse(Rule::clause_word, &word);
    let whole =
        clause_word.is_ok_and(|mut pairs| pairs.next().is_some_and(|pair| pair.as_str() == word));
    let reserved = whole && habit.is_none() && expected.contains("a name");
    let curly = word.starts_with(['\u{201c}', '\u{201d}', '\u{201e}']);
    UnreadableLine {
        reserved,
        curly,
        place: part(span, at + skipped, word.len().max(1)),
        word: if word.is_empty() { "the end of the line".into() } else { format!("“{word}”") },
        meant: meant.filter(|_| habit.is_none()).map(|meant| (part(span, 0, first.len()), meant)),
        mend: habit
            .or_else(|| wanting(&expected, piece, &word))
            .unwrap_or_else(|| head::mend(alone)),
        expected,
    }
}

/// What to write where only one thing can stand, or where a colon, a hyphen or the end of a line is missing.
fn wanting(expected: &str, piece: &str, word: &str) -> Option<&'static str> {
    let code = piece.lines().next().unwrap_or_default();
    let mut words = code.split_whitespace();
    let first = words.next().unwrap_or_default();
    match expected {
        "a text in double quotes" => {
            Some("what the reader is told stands in quotes, as in: stop \"Call an electrician.\"")
        }
        "the end of the line" if MODEL_ITEMS.contains(&word) => Some(
            "begin a new line there: each thing stands on a line of its own, and the brace that closes them all, too",
        ),
        "the end of the line" if word.starts_with('{') => {
            Some("nothing stands in braces behind this: take { out, and the } that closes it")
        }
        "the end of the line" if MODEL_ITEMS.contains(&first) || first == "clips" => {
            let name = words.next();
            // What has a text and no name wants no colon.
            if name.is_some_and(|name| name.starts_with('"')) {
                return None;
            }
            let named = name.is_some();
            let parted = [':', '='].iter().any(|sign| code.contains(*sign));
            Some(if named && parted {
                "a name has no blanks in it: join its words with hyphens, as in: run-down"
            } else {
                "a colon stands behind the name, and then what is said of it: state mains : live, isolated"
            })
        }
        _ => None,
    }
}

/// The line of a piece in which something stands.
fn line_at(piece: &str, at: usize) -> &str {
    let before = piece.get(..at).unwrap_or("");
    let from = before.rfind('\n').map_or(0, |end| end + 1);
    piece.get(from..).and_then(|rest| rest.lines().next()).unwrap_or("")
}

/// The word that the first one of a line may be meant for.
fn meant(first: &str, known: &[&'static str], alone: Rule, at_first: bool) -> Option<String> {
    if known.contains(&first) {
        return None;
    }
    let lower = first.to_lowercase();
    if let Some(word) = known.iter().find(|word| **word == lower) {
        return Some((*word).to_owned());
    }
    // The lines of a procedure begin with words of the vocabulary, too: those are not second-guessed.
    let any_place = alone == Rule::only_model_item;
    let near = || near(first, known.iter().copied()).map(str::to_owned);
    (at_first || any_place).then(near).flatten()
}

/// A part of a piece, kept inside it.
fn part(span: Span, from: usize, length: usize) -> Span {
    let from = u32::try_from(from).unwrap_or(u32::MAX);
    let length = u32::try_from(length).unwrap_or(u32::MAX);
    let start = span.start.saturating_add(from).min(span.end);
    Span { start, end: start.saturating_add(length).min(span.end).max(start), ..span }
}

/// `gap -shim`: a minus with a blank before it and none behind it, between two names.
fn sticking_minus(piece: &str) -> Option<usize> {
    let signs: Vec<(usize, char)> = piece.char_indices().collect();
    let mut in_text = false;
    signs.windows(4).find_map(|four| {
        let [(_, a), (_, b), (at, c), (_, d)] = four else { return None };
        if *a == '"' {
            in_text = !in_text;
        }
        let between =
            (a.is_alphanumeric() || *a == ')') && *b == ' ' && *c == '-' && d.is_alphabetic();
        (between && !in_text).then_some(*at)
    })
}
