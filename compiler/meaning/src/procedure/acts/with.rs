//! `with …`: what goes in (a consumable, a chosen size), or how hard.

use super::super::laying::{Fitted, Laying};
use super::draft::Draft;
use super::shape::{clause, names, text_in};
use crate::findings::flow::ObjectDoesNotFit;
use crate::findings::hardware::OtherContent;
use crate::findings::names::listed;
use crate::findings::readings::OneSetForSeveral;
use crate::world::{ElementAct, ModelThing, at_point};
use locknut_graph::{LineValue, Material, ReadingId};
use locknut_quantity::Quantity;
use locknut_syntax::tree::{self, Act, ClauseValue, Expression, LimitForm, Name};
use std::collections::BTreeSet;

/// Reads `with …` and the declared content; true where it says how hard.
pub(super) fn with(
    laying: &mut Laying<'_>,
    act: &Act,
    thing: &ModelThing,
    element_act: &ElementAct,
    draft: &mut Draft<'_>,
) -> bool {
    if let Some(seen) = text_in(act, "seen") {
        let seen = laying.prose(seen);
        draft.say("seen-from", LineValue::Prose(seen));
    }
    if element_act.takes.contains("content") {
        // What is topped up is full before and behind: how much is missing, no model knows.
        let tops_up = element_act.to.is_some_and(|to| element_act.from == [to]);
        content(laying, act, thing, tops_up, draft);
        return false;
    }
    match clause(act, "with").map(|clause| &clause.value) {
        Some(ClauseValue::Limit(limit)) => {
            let force = laying.world.units.kind_named("force");
            if let Some(limit) = laying.limit(limit, force) {
                draft.say("effort-limit", LineValue::Limit(limit));
            }
            true
        }
        Some(_) => {
            let mut effort = false;
            for name in names(act, "with") {
                effort |= named(laying, name, draft);
            }
            effort
        }
        None => false,
    }
}

/// An effort, a chosen size, a consumable or a part; true for an effort.
fn named(laying: &mut Laying<'_>, name: &Name, draft: &mut Draft<'_>) -> bool {
    let world = laying.world;
    if let Some(effort) = world.figure("effort", &name.text) {
        draft.say("effort", LineValue::Words(effort.words.clone()));
        if let Some(limit) = effort.values.values().next() {
            draft.say("effort-limit", LineValue::Limit(limit.clone()));
        }
        return true;
    }
    if !laying.has_been_read(name) {
        return false;
    }
    if let Some(chosen) = laying.scope.readings.get(&name.text).map(|chosen| chosen.id) {
        draft.say("with", LineValue::Reading(chosen));
        one_for_several(laying, name, chosen, draft);
        return false;
    }
    if let Some(consumable) = world.consumables.get(&name.text) {
        draft.say("with", LineValue::Words(consumable.words.clone()));
        list(laying, &name.text, None);
        return false;
    }
    if let Some(part) = laying.model.any_of(&name.text) {
        let at_one = laying.model.things.contains_key(&name.text);
        let words = if at_one { part.words.clone() } else { laying.words(&name.text) };
        draft.say("with", LineValue::Words(words));
        return false;
    }
    let mut known: Vec<&str> = world.figures_of("effort").into_keys().collect();
    known.extend(world.consumables.keys().map(String::as_str));
    known.extend(laying.scope.readings.keys().map(String::as_str).collect::<Vec<_>>());
    let known: Vec<String> = known.into_iter().map(str::to_owned).collect();
    laying.read(|reader, found| {
        let known = known.iter().map(String::as_str);
        reader.unknown("consumable, effort, part or chosen size", name, known, found);
    });
    false
}

/// One chosen set that goes into several places on one way; asked once, at the line that brings the second.
fn one_for_several(laying: &mut Laying<'_>, name: &Name, chosen: ReadingId, draft: &Draft<'_>) {
    let Some(fitted) = laying.fitted.get(&chosen) else { return };
    let shared = fitted.iter().filter(|one| laying.here.may_share_a_way(&one.place));
    let shared: Vec<&Fitted> = shared.collect();
    let before: BTreeSet<&String> = shared.iter().flat_map(|one| &one.things).collect();
    let places: BTreeSet<&String> = before.iter().copied().chain(&draft.things).collect();
    let told = |one: &&Fitted| {
        let with = |other: &&Fitted| {
            one.things != other.things && laying.here.may_both_be_passed(&one.place, &other.place)
        };
        one.things.len() > 1 || shared.iter().any(with)
    };
    if places.len() > 1 && !shared.iter().any(told) {
        let stands = |thing: &&String| {
            let prefix = at_point(thing, "");
            places.iter().all(|place| place.starts_with(&prefix))
        };
        let thing = laying.model.points.keys().find(stands).cloned();
        let before = shared.first().map(|one| one.span);
        let places: Vec<String> = places.into_iter().cloned().collect();
        let said: Vec<String> = places.iter().map(|place| laying.words(place).said).collect();
        let (chosen, places) = (name.text.clone(), listed(&said, "and"));
        let finding = OneSetForSeveral { chosen, span: name.span, before, places, thing };
        laying.found.add(&finding);
    }
    let (things, place) = (draft.things.clone(), laying.here.place());
    let one = Fitted { things, span: name.span, place };
    laying.fitted.entry(chosen).or_default().push(one);
}

/// What a fluid is filled with, and how much: as the model declares it; anything else wants a reason.
fn content(
    laying: &mut Laying<'_>,
    act: &Act,
    thing: &ModelThing,
    tops_up: bool,
    draft: &mut Draft<'_>,
) {
    let declared = thing.content.as_ref();
    let Some((amount, named)) = filled_with(laying, act, thing) else { return };
    if let Some(named) = named
        && !laying.world.consumables.contains_key(&named.text)
    {
        let known: Vec<&str> = laying.world.consumables.keys().map(String::as_str).collect();
        laying.read(|reader, found| reader.unknown("consumable", named, known, found));
        return;
    }
    let of_machine = declared.and_then(|(quantity, _)| quantity.clone());
    if let Some(amount) = amount {
        let kind = of_machine.as_ref().map(|quantity| quantity.kind);
        let Some(quantity) = laying.quantity(amount, kind) else { return };
        draft.say("quantity", LineValue::Quantity(quantity));
    }
    let written = match draft.line.values.get("quantity") {
        Some(LineValue::Quantity(quantity)) => Some(quantity.clone()),
        _ => None,
    };
    let other_content = named.zip(declared).filter(|(name, (_, content))| name.text != *content);
    let unlike = |here: &Quantity, of: &Quantity| {
        if tops_up { here.value >= of.value } else { here.value != of.value }
    };
    let other_amount =
        written.as_ref().zip(of_machine.as_ref()).filter(|(here, of)| unlike(here, of));
    let other = match (other_content, other_amount) {
        (Some((name, (_, content))), _) => Some((false, &name.text, content, name.span)),
        (None, Some((here, of))) => Some((true, &here.written, &of.written, act.span)),
        (None, None) => None,
    };
    let reason = text_in(act, "because");
    if let (Some((of_amount, filled, declared, span)), None) = (other, reason) {
        laying.found.add(&OtherContent {
            thing: thing.words.said.clone(),
            of_amount,
            tops_up,
            filled: filled.clone(),
            span,
            declared: declared.clone(),
            declared_at: thing.span,
        });
    }
    if let Some(reason) = reason {
        let reason = laying.prose(reason);
        draft.say("because", LineValue::Prose(reason));
    }
    let content = named.map(|name| name.text.clone());
    let Some(content) = content.or_else(|| declared.map(|(_, content)| content.clone())) else {
        return;
    };
    let words = laying.words(&content);
    draft.say("with", LineValue::Words(words));
    let quantity = written.or(of_machine.filter(|_| !tops_up));
    if let Some(quantity) = &quantity {
        draft.say("quantity", LineValue::Quantity(quantity.clone()));
    }
    list(laying, &content, quantity);
}

/// `with oil`, `with 1.5 L of oil`, `with 1.5 L`; none where it says something else, which is told.
fn filled_with<'a>(
    laying: &mut Laying<'_>,
    act: &'a Act,
    thing: &ModelThing,
) -> Option<(Option<&'a tree::Quantity>, Option<&'a Name>)> {
    let Some(ClauseValue::Limit(limit)) = clause(act, "with").map(|clause| &clause.value) else {
        return Some((None, names(act, "with").first().copied()));
    };
    if let LimitForm::Just(Expression::Quantity(amount)) = &limit.form {
        return Some((Some(amount), None));
    }
    if let LimitForm::Just(Expression::PercentOf { percent, of, .. }) = &limit.form
        && let Expression::Name(name) = &**of
    {
        return Some((Some(percent), Some(name)));
    }
    let content = thing.content.as_ref();
    let (amount, content) = content.map_or(("1.5 L".to_owned(), "oil"), |(amount, content)| {
        let amount = amount.as_ref().map_or("1.5 L".to_owned(), |amount| amount.written.clone());
        (amount, content.as_str())
    });
    let (verb, span) = (act.verb.text.clone(), limit.span);
    let form = format!("{verb} {} with {amount} of {content}", thing.words.name);
    laying.found.add(&ObjectDoesNotFit { verb, form, span, missing: false });
    None
}

fn list(laying: &mut Laying<'_>, consumable: &str, quantity: Option<Quantity>) {
    let Some(declared) = laying.world.consumables.get(consumable) else { return };
    let material = Material {
        words: declared.words.clone(),
        quantity,
        sizes: Vec::new(),
        shelf_life_months: declared.shelf_life_months,
        new_part: false,
        maybe: laying.here.only_on_some_ways(),
    };
    laying.build.material(material, &laying.world.units);
}
