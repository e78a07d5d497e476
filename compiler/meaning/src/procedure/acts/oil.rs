//! What is declared oiled, or brought into another condition by something that is put on, must be so when it is tightened.
//!
//! Whether it is, is a variable of its own beside the fastener's state: taking them out and new ones make it dry, `apply`
//! of a fitting consumable makes it oiled, before they go in or behind that; tightening asserts it. It starts oiled: what
//! was tight when the job began was oiled when it was tightened, which the proof lists as taken for granted; what the job
//! finds out is dry. It is added only where an act deals with it.

use super::super::laying::Laying;
use super::tightens::{inside, lets_go, takes_out, tightens};
use crate::findings::hardware::MadeSlippery;
use crate::world::{Consumable, ElementAct, ModelThing};
use locknut_finding::Span;
use locknut_graph::{
    Assertion, Because, Condition, Effect, Test, Value, Variable, VariableId, VariableKind, Words,
};
use std::collections::BTreeMap;

const OILED: u8 = 0;
const DRY: u8 = 1;

/// What brings about the conditions of the standard library that nothing has as it is delivered. Of a condition of an
/// author's own the word itself tells it: `waxed` is what something `waxes`.
const MADE_BY: &[(&str, &[&str])] = &[
    ("oiled", &["oils", "greases"]),
    ("moly-greased", &["moly-greases"]),
    (LOCKED, &["locks", "thread-locks"]),
];

const LOCKED: &str = "thread-locked";

/// What the act does to what is on the threads, and what it asks of it.
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
    // A compound that has cured is torn where they are let go; oil stays on them.
    let torn = friction(declared) == LOCKED && lets_go(element, act);
    if act.new {
        cleaned(laying, thing);
    }
    if tightens(act) {
        for (_, finding) in laying.spoiled.remove(thing).unwrap_or_default() {
            laying.found.add(&finding);
        }
    }
    let undone = takes_out(element, act) || act.new || torn;
    if !tightens(act) && !undone {
        return nothing;
    }
    let Some(variable) = variable(laying, thing) else { return nothing };
    if tightens(act) {
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
    (vec![Effect::Set { variable, value: DRY }], Vec::new())
}

/// What `apply CONSUMABLE to THING` does to the threads.
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

/// Keeps in mind that something was put on a fastener that is not for it: told where it is tightened like that. What was
/// put on ahead of new ones, or behind the tightening, does no harm.
pub(super) fn spoiled(laying: &mut Laying<'_>, thing: &str, finding: MadeSlippery) {
    if laying.here.is_freed() {
        laying.found.add(&finding);
        return;
    }
    let place = laying.here.place();
    laying.spoiled.entry(thing.to_owned()).or_default().push((place, finding));
}

/// They are clean again, on every way that has come through here.
pub(super) fn cleaned(laying: &mut Laying<'_>, thing: &str) {
    let here = &laying.here;
    if let Some(spoiled) = laying.spoiled.get_mut(thing) {
        spoiled.retain(|(place, _)| !here.is_surely_behind(place));
    }
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

/// The variable that tells whether a fastener is oiled; none where it is declared as it is delivered.
fn variable(laying: &mut Laying<'_>, thing: &str) -> Option<VariableId> {
    if let Some(known) = laying.threads.get(thing) {
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
    laying.threads.insert(thing.to_owned(), id);
    Some(id)
}

/// What the job finds out is dry: nobody made it tight.
pub(in crate::procedure) fn found_out(
    laying: &Laying<'_>,
    starts: &mut BTreeMap<VariableId, Vec<u8>>,
) {
    for (thing, variable) in &laying.threads {
        let Some(declared) = laying.model.things.get(thing) else { continue };
        let Some(element) = laying.world.elements.get(&declared.element) else { continue };
        let Some(found) = starts.get(&declared.variable) else { continue };
        let out = found.iter().any(|value| !inside(element, *value));
        let some_in = found.iter().any(|value| inside(element, *value));
        if out {
            let all = some_in.then_some(OILED).into_iter().chain([DRY]).collect();
            starts.insert(*variable, all);
        }
    }
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
