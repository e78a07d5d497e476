//! Whether the places of a library's own phrases can be filled at all: told when the library is checked, and not when the
//! first sheet asks for the phrase.
//!
//! Which values a line hands out is known where it is said; here it is known which there are at all: those that the
//! standard phrases name, and those that a line may be given besides.

use crate::findings::BadPhrase;
use crate::lines::PARTS;
use fluent_bundle::FluentResource;
use fluent_syntax::ast::{Entry, Expression, InlineExpression, Pattern, PatternElement};
use locknut_finding::{FileId, Findings, Span};
use std::collections::BTreeSet;

/// Values that lines have and no standard phrase names.
const FURTHER: &[&str] = &["count", "otherwise", "per", "question", "record-kind", "set"];
/// Phrases that are said as they are, whatever the line.
const WITHOUT_VALUES: &[&str] = &["label-", "month-", "name-", "qualifier-", "value-", "word-"];

/// Says which places of a library's phrases in a language nothing can fill. `standard` are the phrases of the standard
/// library in all languages, `same` those in this one.
pub fn unknown_places(
    language: &str,
    library: &[(FileId, String)],
    same: &[&str],
    standard: &[&str],
) -> Findings {
    let mut known = Named::default();
    for text in standard {
        known.all(text);
    }
    let mut values = known.values;
    values.extend(PARTS.iter().chain(FURTHER).map(|value| (*value).to_owned()));
    let mut here = Named::default();
    let own = || library.iter().map(|(file, text)| (*file, text.as_str()));
    for text in same.iter().copied().chain(own().map(|(_, text)| text)) {
        here.all(text);
    }
    let mut found = Findings::default();
    let all =
        own().flat_map(|(file, text)| messages(text).into_iter().map(move |of| (file, text, of)));
    for (file, text, (key, named)) in all {
        let none = WITHOUT_VALUES.iter().any(|begin| key.starts_with(begin));
        let value = named.values.iter().find(|value| none || !values.contains(*value));
        let value = value
            .map(|value| (format!("${value}"), format!("no line has a value ${value} for it")));
        let phrase = named.phrases.iter().find(|phrase| !here.keys.contains(*phrase));
        let phrase = phrase.map(|phrase| (phrase.clone(), format!("there is no phrase {phrase}")));
        if let Some((word, why)) = value.or(phrase) {
            let place = line_of(file, text, &key, Some(word.trim_end_matches("()")));
            found.add(&BadPhrase { key, language: language.to_owned(), why, place });
        }
    }
    found
}

/// Where a phrase file says a phrase: a word of it, or its key.
pub(crate) fn line_of(file: FileId, text: &str, key: &str, word: Option<&str>) -> Option<Span> {
    let mut start = 0;
    let mut said: Option<usize> = None;
    for line in text.split_inclusive('\n') {
        let ahead = line.strip_prefix(key).is_some_and(|rest| rest.trim_start().starts_with('='));
        if ahead {
            said = Some(start);
        } else if said.is_some() && !line.starts_with([' ', '\t', '}', '\r', '\n']) {
            break;
        }
        if said.is_some() {
            // The first `=` parts the key from what it says.
            let from = if ahead { key.len() } else { 0 };
            let found = word.and_then(|word| line.get(from..)?.find(word));
            if let Some(at) = found {
                let length = word.map_or(0, str::len);
                return Some(bytes(file, start + from + at, length));
            }
        }
        start += line.len();
    }
    said.map(|at| bytes(file, at, key.len()))
}

/// The rest of the line at a byte.
pub(crate) fn span(file: FileId, text: &str, at: usize) -> Span {
    let rest = text.get(at..).unwrap_or_default();
    bytes(file, at, rest.lines().next().unwrap_or_default().trim_end().len().max(1))
}

fn bytes(file: FileId, at: usize, length: usize) -> Span {
    let byte = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
    Span::new(file, byte(at), byte(at + length))
}

/// What phrases name.
#[derive(Default)]
struct Named {
    keys: BTreeSet<String>,
    values: BTreeSet<String>,
    /// Other phrases, terms with their hyphen.
    phrases: BTreeSet<String>,
}

/// The phrases of a file, each with what it names; what cannot be read is told where the file is loaded.
fn messages(text: &str) -> Vec<(String, Named)> {
    let (Ok(read) | Err((read, _))) = FluentResource::try_new(text.to_owned());
    let mut all = Vec::new();
    for entry in read.entries() {
        let (key, pattern) = match entry {
            Entry::Message(message) => (message.id.name.to_owned(), message.value.as_ref()),
            Entry::Term(term) => (format!("-{}", term.id.name), Some(&term.value)),
            Entry::Comment(_)
            | Entry::GroupComment(_)
            | Entry::ResourceComment(_)
            | Entry::Junk { .. } => continue,
        };
        let mut named = Named::default();
        if let Some(pattern) = pattern {
            named.pattern(pattern);
        }
        all.push((key, named));
    }
    all
}

impl Named {
    fn all(&mut self, text: &str) {
        for (key, named) in messages(text) {
            self.keys.insert(key);
            self.values.extend(named.values);
        }
    }

    fn pattern(&mut self, pattern: &Pattern<&str>) {
        for element in &pattern.elements {
            match element {
                PatternElement::TextElement { .. } => {}
                PatternElement::Placeable { expression } => self.expression(expression),
            }
        }
    }

    fn expression(&mut self, expression: &Expression<&str>) {
        match expression {
            Expression::Inline(inline) => self.inline(inline),
            Expression::Select { selector, variants } => {
                self.inline(selector);
                for variant in variants {
                    self.pattern(&variant.value);
                }
            }
        }
    }

    fn inline(&mut self, inline: &InlineExpression<&str>) {
        match inline {
            InlineExpression::StringLiteral { .. } | InlineExpression::NumberLiteral { .. } => {}
            InlineExpression::FunctionReference { id, arguments } => {
                // No function is on board.
                self.phrases.insert(format!("{}()", id.name));
                for argument in &arguments.positional {
                    self.inline(argument);
                }
            }
            InlineExpression::MessageReference { id, .. } => {
                self.phrases.insert(id.name.to_owned());
            }
            InlineExpression::TermReference { id, .. } => {
                self.phrases.insert(format!("-{}", id.name));
            }
            InlineExpression::VariableReference { id } => {
                self.values.insert(id.name.to_owned());
            }
            InlineExpression::Placeable { expression } => self.expression(expression),
        }
    }
}
