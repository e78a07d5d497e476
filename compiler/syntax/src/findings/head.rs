//! What a head or a clause looks like, where the grammar only says that it does not fit.

use super::{UnreadableLine, part};
use crate::grammar::Rule;
use crate::words::DECLARATIONS;
use locknut_finding::Span;

/// Clauses of more than one word, with what they look like in full.
pub(super) const CLAUSES: &[(&str, &str)] = &[
    ("until", "until STEP is done"),
    ("independent", "independent of STEP"),
    ("seen", "seen from \"…\""),
    ("so", "so that NAME is LIMIT"),
    ("where", "where NAME = …"),
    ("because", "because \"…\""),
    ("per", "per \"…\""),
    ("noting", "noting \"…\""),
    ("despite", "despite LN612 because \"…\""),
];

/// What to write instead of a line that cannot be read.
pub(super) fn mend(alone: Rule) -> &'static str {
    match alone {
        Rule::only_model_item => {
            "write one thing a line: what it is, its name, a colon, and what is said of it, as in “part lid : behind cover”"
        }
        Rule::only_equipment_line => {
            "write one property a line, as in “measures length 0 .. 20 mm” or “resolution 0.1 mm”"
        }
        Rule::only_element_line => {
            "write states, attribute, mark, relation, act or never, and what belongs to it"
        }
        Rule::only_table_line => {
            "write one row a line, as in “10 °C -> 500 N”, and then what holds between the rows"
        }
        Rule::only_template_line => {
            "write one outline or cut a line, as in “rectangle 280 mm x 30 mm” or “notch bottom at 10 mm, width 6 mm, depth 8 mm”"
        }
        Rule::only_declaration => "write it as the reference shows for this word",
        _ => {
            "write one act a line: verb, what it is done to, then clauses such as using, with, needs"
        }
    }
}

/// What is wrong with the head of a declaration whose first word is right.
pub(super) fn fault(piece: &str, span: Span) -> Option<UnreadableLine> {
    let line = piece.lines().next().unwrap_or(piece);
    let head = line.split('{').next().unwrap_or(line);
    let mut words = Vec::new();
    for word in head.split_whitespace() {
        // Words are parts of the head: their place is how far they begin into it.
        let at = word.as_ptr().addr().saturating_sub(head.as_ptr().addr());
        words.push((at, word));
    }
    let (_, keyword) = *words.first()?;
    if !DECLARATIONS.contains(&keyword) {
        return None;
    }
    let on_a_machine = matches!(keyword, "procedure" | "subtask");
    if !on_a_machine && !matches!(keyword, "model" | "assembly") {
        return None;
    }
    let form: &'static str = if on_a_machine {
        "write: procedure NAME on MODEL { … }"
    } else {
        "write: model NAME { … }"
    };
    let found = |place: Option<&(usize, &str)>, expected: &str| UnreadableLine {
        place: match place {
            Some((at, word)) => part(span, *at, word.len()),
            None => part(span, head.trim_end().len(), 1),
        },
        word: place
            .map_or_else(|| "the end of its head".to_owned(), |(_, word)| format!("“{word}”")),
        expected: expected.to_owned(),
        meant: None,
        reserved: false,
        curly: false,
        mend: form,
    };
    let named = |at: usize| words.get(at).is_some_and(|(_, word)| is_a_name(word));
    if !named(1) {
        return Some(found(words.get(1), "a name: letters, digits and hyphens"));
    }
    match words.get(2) {
        Some((_, "on")) if on_a_machine => {
            let further = if named(3) { words.get(4).map(|_| 4) } else { Some(3) };
            further
                .map(|at| found(words.get(at), if at == 3 { "the name of a model" } else { "{" }))
        }
        Some(_) => Some(found(words.get(2), if on_a_machine { "on MODEL, or {" } else { "{" })),
        None if !piece.contains('{') => Some(found(None, "{")),
        None => None,
    }
}

fn is_a_name(word: &str) -> bool {
    word.starts_with(char::is_alphabetic)
        && word.chars().all(|sign| sign.is_alphanumeric() || sign == '-' || sign == '_')
}
