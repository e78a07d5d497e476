//! What is declared oiled must be oiled between fitting and tightening.
//!
//! Whether it is, is a variable of its own beside the fastener's state: fitting makes it dry, `apply`
//! of a fitting consumable makes it oiled, tightening asserts it. It starts oiled: what was tight when
//! the job began was oiled when it was tightened. It is added only where an act deals with it.

use super::super::laying::Laying;
use crate::world::{Consumable, ElementAct, ElementKind, ModelThing};
use locknut_finding::Span;
use locknut_graph::{
    Assertion, Because, Condition, Effect, Test, Value, Variable, VariableId, VariableKind, Words,
};

const OILED: u8 = 0;
const DRY: u8 = 1;

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
        let because = Because::Oiled { thing: declared.words.clone() };
        let written = format!("{} is {}", declared.words.said, friction(declared));
        return (Vec::new(), vec![Assertion { condition, because, written, span }]);
    }
    if brings_in(element, act) {
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
    if friction != "oiled" && !laying.world.consumables.values().any(applied) {
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
    let stems = [friction.strip_suffix("ed"), friction.strip_suffix('d')];
    let does = |stem: &str| consumable.purpose.contains(&format!("{stem}s"));
    stems.into_iter().flatten().any(does)
}
