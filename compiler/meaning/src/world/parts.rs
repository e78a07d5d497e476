//! The pieces of an attribute, read one after the other.

use locknut_finding::Span;
use locknut_syntax::tree::{Attribute, Condition, Limit, Name, Part, Text};

/// What is left of an attribute.
#[derive(Clone, Copy)]
pub(super) struct Parts<'t> {
    left: &'t [Part],
    pub(super) span: Span,
}

impl<'t> Parts<'t> {
    pub(super) fn of(attribute: &'t Attribute) -> Self {
        Self { left: &attribute.parts, span: attribute.span }
    }

    /// Takes a word, whichever it is.
    pub(super) fn word(&mut self) -> Option<&'t Name> {
        let Some((Part::Word(word), left)) = self.left.split_first() else { return None };
        self.left = left;
        Some(word)
    }

    /// Takes these words, or nothing.
    pub(super) fn says(&mut self, words: &[&str]) -> bool {
        let mut ahead = *self;
        let all = words.iter().all(|wanted| ahead.word().is_some_and(|word| word.text == *wanted));
        if all {
            *self = ahead;
        }
        all
    }

    /// Takes a number, quantity or range.
    pub(super) fn limit(&mut self) -> Option<&'t Limit> {
        let Some((Part::Limit(limit), left)) = self.left.split_first() else { return None };
        self.left = left;
        Some(limit)
    }

    /// Takes a text.
    pub(super) fn text(&mut self) -> Option<&'t Text> {
        let Some((Part::Text(text), left)) = self.left.split_first() else { return None };
        self.left = left;
        Some(text)
    }

    /// Takes a condition; its `when` was a word before it.
    pub(super) fn condition(&mut self) -> Option<&'t Condition> {
        let Some((Part::Condition(condition), left)) = self.left.split_first() else { return None };
        self.left = left;
        Some(condition)
    }

    /// The next word, left where it is.
    pub(super) fn ahead(&self) -> Option<&'t Name> {
        let mut ahead = *self;
        ahead.word()
    }

    /// Whether nothing is left.
    pub(super) fn done(&self) -> bool {
        self.left.is_empty()
    }
}
