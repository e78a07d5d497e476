//! What is declared oiled, or brought into another condition by something that is put on, must be so when it is tightened.
//!
//! Whether it is, is a variable of its own beside the fastener's state: taking it out and new ones make it dry, `apply`
//! of a fitting consumable makes it oiled, before it goes in or behind that; tightening asserts it. It starts oiled: what
//! was tight when the job began was oiled when it was tightened, which the proof lists as taken for granted. It is added
//! only where an act deals with it.

use super::super::laying::Laying;
use crate::world::{Consumable, ElementAct, ElementKind, ModelThing};
use locknut_finding::Span;
use locknut_graph::{
    Assertion, Because, Condition, Effect, Test, Value, Variable, VariableId, VariableKind, Words,
};

const OILED: u8 = 0;
const DRY: u8 = 1;

/// What brings about the conditions of the standard library that nothing has as it is delivered. Of a condition of an
/// author's own the word itself tells it: `waxed` is what something `waxes`.
const MADE_BY: &[(&str, &[&str])] = &[
    ("oiled", &["oils", "greases"]),
    ("moly-greased", &["moly-greases"]),
    ("thread-locked", &["locks", "thread-locks"]),
];

/// What the act does to the oil, and what it asks of it.
pub(super) fn of_act(
    laying: &mut Laying<'_>,
    thing: &str,
    act: &ElementAct,
    span: Span,
) -> (Vec<Effect>, Vec<Assertion>) {
    let nothing = (Vec::new(), Vec::new());
    let world = laying.world;
    let Some(declared) = laying.model.things.get(thing) else { return nothing };
    let Some(element) = world.elements.get(&declared.element) else { return nothing };
    if act.takes.contains("figure") {
        let Some(variable) = variable(laying, thing) else { return nothing };
        let condition =
            Condition::Test(Test::Is { variable, values: vec![OILED], span: declared.span });
        let because = Because::Oiled {
            thing: declared.words.clone(),
            condition: friction(declared).to_owned(),
            by: made_by(friction(declared)).first().cloned().unwrap_or_default(),
        };
        let written = format!("{} is {}", declared.words.said, friction(declared));
        return (Vec::new(), vec![Assertion { condition, because, written, span }]);
    }
    if takes_out(element, act) || (act.new && brings_in(element, act)) {
        let Some(variable) = variable(laying, thing) else { return nothing };
        return (vec![Effect::Set { variable, value: DRY }], Vec::new());
    }
    nothing
}

/// What `apply CONSUMABLE to THING` does to the oil.
pub(super) fn applied(
    laying: &mut Laying<'_>,
    thing: &str,
    consumable: &Consumable,
) -> Option<Effect> {
    let declared = laying.model.things.get(thing)?;
    if !brings(consumable, friction(declared)) {
        return None;
    }
    let variable = variable(laying, thing)?;
    Some(Effect::Set { variable, value: OILED })
}

/// What a consumable makes of a fastener that is declared otherwise: `oiled`, where it is declared dry.
pub(super) fn contrary(
    laying: &Laying<'_>,
    thing: &str,
    consumable: &Consumable,
) -> Option<String> {
    let declared = laying.model.things.get(thing)?.friction.as_deref()?;
    if brings(consumable, declared) {
        return None;
    }
    let mut conditions = laying.world.figures_of("condition").into_keys();
    conditions.find(|condition| brings(consumable, condition)).map(str::to_owned)
}

/// An act that takes the fastener from where it is tight, or can be tightened, to where it can not: `remove`.
fn takes_out(element: &ElementKind, act: &ElementAct) -> bool {
    let tightening = || element.acts.values().filter(|act| act.takes.contains("figure"));
    let inside = |value: &u8| {
        tightening().any(|tighten| tighten.from.contains(value) || tighten.to == Some(*value))
    };
    act.from.iter().any(inside) && act.to.as_ref().is_some_and(|to| !inside(to))
}

/// An act that brings the fastener from outside to where it can be tightened: `fit`, `renew`.
fn brings_in(element: &ElementKind, act: &ElementAct) -> bool {
    let tightening = || element.acts.values().filter(|act| act.takes.contains("figure"));
    let can_be_tightened = |value: &u8| tightening().any(|tighten| tighten.from.contains(value));
    let is_tightened = |value: &u8| tightening().any(|tighten| tighten.to == Some(*value));
    let from_outside = !act.from.is_empty()
        && !act.from.iter().any(|from| can_be_tightened(from) || is_tightened(from));
    from_outside && act.to.as_ref().is_some_and(can_be_tightened)
}

/// The variable that tells whether a fastener is oiled; none where it is declared dry.
fn variable(laying: &mut Laying<'_>, thing: &str) -> Option<VariableId> {
    if let Some(known) = laying.oiled.get(thing) {
        return Some(*known);
    }
    let declared = laying.model.things.get(thing)?;
    let friction = friction(declared);
    let applied = |consumable: &Consumable| brings(consumable, friction);
    if !put_on(friction) && !laying.world.consumables.values().any(applied) {
        return None;
    }
    let name = format!("{thing}-threads");
    let value = |name: &str| Value { words: Words::of(name), span: declared.span };
    let id = laying.build.add_variable(Variable {
        words: Words::titled(&name, &format!("threads of {}", declared.words.said)),
        values: vec![value(friction), value("dry")],
        normal: OILED,
        kind: VariableKind::Element { element: declared.element.clone() },
        span: declared.span,
    });
    laying.oiled.insert(thing.to_owned(), id);
    Some(id)
}

/// `oiled` as declared; empty where nothing is.
fn friction(thing: &ModelThing) -> &str {
    thing.friction.as_deref().unwrap_or_default()
}

/// Whether a consumable brings about a friction condition: one that `oils` makes `oiled`.
fn brings(consumable: &Consumable, friction: &str) -> bool {
    made_by(friction).iter().any(|does| consumable.purpose.contains(does))
}

/// Whether nothing is in a friction condition as it is delivered.
pub(super) fn put_on(friction: &str) -> bool {
    MADE_BY.iter().any(|(condition, _)| *condition == friction)
}

/// What a consumable does that brings about a friction condition.
pub(super) fn made_by(friction: &str) -> Vec<String> {
    if let Some((_, does)) = MADE_BY.iter().find(|(condition, _)| *condition == friction) {
        return does.iter().map(|does| (*does).to_owned()).collect();
    }
    let stems = [friction.strip_suffix("ed"), friction.strip_suffix('d')];
    stems.into_iter().flatten().map(|stem| format!("{stem}s")).collect()
}
