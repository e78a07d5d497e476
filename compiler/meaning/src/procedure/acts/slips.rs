//! What people write among the things of an act as they would say it: an article, a name with a blank in it, the next act.

use super::super::laying::Laying;
use super::VERBS;
use crate::findings::flow::TwoActs;
use crate::findings::names::UnknownName;
use locknut_finding::Span;
use locknut_syntax::tree::{Act, Name, Object};

/// Names stand without one.
pub(super) fn is_article(word: &str) -> bool {
    ["the", "a", "an"].contains(&word)
}

/// What is to be left out of the things of an act, because it was told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Slip {
    None,
    /// This one and the next.
    WithNext,
    /// This one and all behind it.
    Rest,
}

/// Says so where a thing is not written as it is named, or another act begins.
pub(super) fn told(laying: &mut Laying<'_>, act: &Act, at: usize) -> Slip {
    let Some(Object::Name(name)) = act.objects.get(at) else { return Slip::None };
    if let Some(Object::Name(next)) = act.objects.get(at + 1) {
        let joined = format!("{}-{}", name.text, next.text);
        let article = is_article(&name.text) && !laying.model.has(&name.text);
        let near = if article { next.text.clone() } else { joined };
        if laying.model.has(&near) && (article || !laying.model.has(&next.text)) {
            laying.found.add(&UnknownName {
                wanted: "thing of this model",
                name: format!("{} {}", name.text, next.text),
                span: name.span.to(next.span),
                near: Some(near),
                else_is: None,
            });
            return Slip::WithNext;
        }
    }
    if laying.model.has(&name.text) {
        return Slip::None;
    }
    another_act(laying, act, at, name).unwrap_or(Slip::None)
}

fn another_act(laying: &mut Laying<'_>, act: &Act, at: usize, name: &Name) -> Option<Slip> {
    let word = name.text.as_str();
    let declared = laying.world.elements.values().any(|element| element.acts.contains_key(word));
    if !declared && !VERBS.iter().any(|verb| verb.word == word) {
        return None;
    }
    let ahead = act.objects.get(at.checked_sub(1)?).map(super::shape::span_of)?;
    let between = Span { start: ahead.end, end: name.span.start, ..name.span };
    let written = laying.world.sources.slice(between);
    let comma = written.contains(',') && written.contains('\n');
    let instead = if comma { written.replacen(',', "", 1) } else { on_its_own_line(laying, act) };
    let (verb, span) = (word.to_owned(), name.span);
    laying.found.add(&TwoActs { verb, span, between, instead, comma });
    Some(Slip::Rest)
}

/// A line end, and the blanks with which the act's line begins.
fn on_its_own_line(laying: &Laying<'_>, act: &Act) -> String {
    let text = laying.world.sources.text(act.span.file);
    let ahead = text.get(..act.span.range().start).unwrap_or_default();
    let line = ahead.rsplit('\n').next().unwrap_or_default();
    let blanks: String = line.chars().take_while(|sign| sign.is_whitespace()).collect();
    format!("\n{blanks}")
}
