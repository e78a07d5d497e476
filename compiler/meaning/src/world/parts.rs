//! The pieces of an attribute, read one after the other.

use locknut_finding::Span;
use locknut_syntax::tree::{Attribute, Condition, Expression, Limit, LimitForm, Name, Part, Text};

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

    /// Leaves out all that is left, where something before it was told already.
    pub(super) fn pass_over(&mut self) {
        self.left = &[];
    }

    /// A number without a unit, ahead of the word `in`, which is none: where that word stands.
    pub(super) fn inches(&self) -> Option<Span> {
        self.left.windows(2).find_map(|two| {
            let [Part::Limit(limit), Part::Word(word)] = two else { return None };
            let bare = matches!(last(&limit.form), Expression::Quantity(one) if one.unit.is_none());
            (bare && word.text == "in").then_some(word.span)
        })
    }

    /// Whether nothing is left.
    pub(super) fn done(&self) -> bool {
        self.left.is_empty()
    }
}

/// The figure that a limit ends with.
fn last(form: &LimitForm) -> &Expression {
    match form {
        LimitForm::AtMost(end)
        | LimitForm::AtLeast(end)
        | LimitForm::Under(end)
        | LimitForm::Over(end)
        | LimitForm::Just(end)
        | LimitForm::Unequal(end, ..) => end,
        LimitForm::Between(_, end)
        | LimitForm::OverTo(_, end)
        | LimitForm::PlusMinus(_, end)
        | LimitForm::Triple(_, _, end) => end,
    }
}
