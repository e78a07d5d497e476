//! Acts of the vocabulary: `remove brake-cover`, `tighten cover-bolts using torque-wrench`,
//! `turn slew-pinion 2 turns clockwise seen from "the motor side"`.
//!
//! Each thing of the line is an act of its own: bolts before the part that they fasten.

use super::super::build::Ways;
use super::super::laying::{Laying, Lines};
use super::draft::{self, Draft};
use super::figures;
use super::shape::{Bodies, OF_ACTS, check_body, check_clauses, names, span_of};
use super::slips::{self, Slip};
use super::with::with;
use super::{VERBS, instruments, oil, special_tool, used};
use crate::findings::flow::{NotTaken, ObjectDoesNotFit, UnknownVerb};
use crate::findings::names::listed;
use crate::world::near::nearest;
use crate::world::{ElementAct, ModelThing, at_point};
use locknut_graph::{ActKind, Effect, LineValue, Material, Words};
use locknut_quantity::{Exact, Quantity, Units};
use locknut_syntax::tree::{self, Act, Name, Object};

/// Which way round, or along: these words follow a thing and are none themselves.
const SENSES: &[&str] = &[
    "clockwise",
    "anticlockwise",
    "forwards",
    "backwards",
    "upwards",
    "downwards",
    "inwards",
    "outwards",
    "left",
    "right",
    "up",
    "down",
];

/// Lays an act that is not built in: one for each thing of the line.
pub(super) fn lay<'w>(
    laying: &mut Laying<'w>,
    act: &'w Act,
    mut ways: Ways,
    out: &mut Lines,
) -> Ways {
    let verb = act.verb.text.as_str();
    draft::answers(laying, &act.clauses, act.span);
    let declared = laying.world.elements.values().any(|element| element.acts.contains_key(verb));
    if !declared {
        unknown_verb(laying, act);
        return ways;
    }
    let form = format!("{verb} THING");
    let done_to = done_to(laying, act, &form);
    let points = names(act, "at");
    for (position, object) in done_to.iter().enumerate() {
        let Some((thing, element_act)) = taken_by(laying, act, object.thing) else { continue };
        if position == 0 {
            check_clauses(laying, act, &form, &clauses(element_act), OF_ACTS);
            check_body(laying, act, &form, Bodies::None);
        }
        let here = laying.read(|reader, found| reader.at_points(object.thing, &points, found));
        let Some(here) = here else { continue };
        let draft = drafted(laying, act, object, &here, thing, element_act);
        ways = draft::put(laying, act, draft, ways, out);
    }
    ways
}

/// A thing that the act is done to, with how much and which way.
struct DoneTo<'t> {
    thing: &'t Name,
    quantity: Option<&'t tree::Quantity>,
    senses: Vec<&'t Name>,
}

fn done_to<'t>(laying: &mut Laying<'_>, act: &'t Act, form: &str) -> Vec<DoneTo<'t>> {
    let mut all: Vec<DoneTo<'t>> = Vec::new();
    let mut told = 0;
    for (at, object) in act.objects.iter().enumerate() {
        if at < told {
            continue;
        }
        match slips::told(laying, act, at) {
            Slip::None => {}
            Slip::WithNext => {
                told = at + 2;
                continue;
            }
            Slip::Rest => break,
        }
        let is_sense =
            |name: &Name| SENSES.contains(&name.text.as_str()) && !laying.model.has(&name.text);
        match (object, all.last_mut()) {
            (Object::Name(name), Some(last)) if is_sense(name) => last.senses.push(name),
            (Object::Name(name), _) => {
                all.push(DoneTo { thing: name, quantity: None, senses: Vec::new() });
            }
            (Object::Quantity(quantity), Some(last)) if last.quantity.is_none() => {
                last.quantity = Some(quantity);
            }
            (other, _) => {
                let (verb, form) = (act.verb.text.clone(), form.to_owned());
                let span = span_of(other);
                laying.found.add(&ObjectDoesNotFit { verb, form, span, missing: false });
            }
        }
    }
    if act.objects.is_empty() {
        let (verb, form, span) = (act.verb.text.clone(), form.to_owned(), act.verb.span);
        laying.found.add(&ObjectDoesNotFit { verb, form, span, missing: true });
    }
    all
}

/// The thing and its act; says so where there is no such thing, or it takes no such act.
fn taken_by<'w>(
    laying: &mut Laying<'w>,
    act: &Act,
    name: &Name,
) -> Option<(&'w ModelThing, &'w ElementAct)> {
    if !is_known(laying, name) {
        return None;
    }
    let (world, model) = (laying.world, laying.model);
    let thing = model.any_of(&name.text);
    let taken = world.element_act(model, &name.text, &act.verb.text);
    let (Some(thing), Some(taken)) = (thing, taken) else {
        let acts = acts_of(laying, &name.text);
        let near = nearest(&act.verb.text, acts.iter().map(String::as_str));
        let is = laying.read(|reader, _| reader.what_is(&name.text));
        laying.found.add(&NotTaken {
            verb: act.verb.text.clone(),
            verb_span: act.verb.span,
            thing: name.text.clone(),
            thing_span: name.span,
            is,
            acts,
            near,
        });
        return None;
    };
    Some((thing, taken))
}

/// Whether the model has a thing of this name; says so where it has none.
pub(super) fn is_known(laying: &mut Laying<'_>, name: &Name) -> bool {
    if laying.model.has(&name.text) {
        return true;
    }
    let things: Vec<&str> = laying.model.things.keys().map(String::as_str).collect();
    laying.read(|reader, found| reader.unknown("thing of this model", name, things, found));
    false
}

/// The verbs that a thing of the model takes.
pub(super) fn acts_of(laying: &Laying<'_>, thing: &str) -> Vec<String> {
    let element = laying.model.any_of(thing).map(|thing| thing.element.as_str());
    let element = element.and_then(|element| laying.world.elements.get(element));
    element.map(|element| element.acts.keys().cloned().collect()).unwrap_or_default()
}

/// The clauses that an act of the vocabulary takes.
fn clauses(act: &ElementAct) -> Vec<&str> {
    let mut clauses = vec!["using", "at"];
    for word in &act.takes {
        match word.as_str() {
            "figure" => clauses.extend(["to", "then", "turned", "because", "with"]),
            "sense" => clauses.push("seen"),
            "content" => clauses.extend(["with", "because"]),
            "quantity" => {}
            other => clauses.push(other),
        }
    }
    clauses
}

fn drafted<'w>(
    laying: &mut Laying<'w>,
    act: &Act,
    object: &DoneTo<'_>,
    here: &[Name],
    thing: &'w ModelThing,
    element_act: &'w ElementAct,
) -> Draft<'w> {
    let words = words_at(laying, object.thing, here);
    let mut draft =
        Draft::of(ActKind::Do, format!("{}-{}", thing.element, act.verb.text), act.span);
    draft.things = here.iter().map(|name| name.text.clone()).collect();
    draft.say("thing", LineValue::Words(words.clone()));
    let stand_there = u64::try_from(here.len()).unwrap_or(u64::MAX);
    if let Some(count) = thing.count {
        draft.say("count", LineValue::Number(count.saturating_mul(stand_there)));
    }
    for name in here {
        done_at(laying, act, &name.text, element_act, &mut draft);
    }
    if thing.element == special_tool::ELEMENT {
        special_tool::say(laying, act, object.thing, here, &mut draft);
    }
    if element_act.new {
        draft_new_part(laying, &words, thing.count.unwrap_or(1).saturating_mul(stand_there));
    }
    how_much(laying, object, element_act, &mut draft);
    let has_effort = with(laying, act, thing, element_act, &mut draft);
    let using = instruments::using(laying, act);
    instruments::attach(laying, &using, &mut draft);
    if element_act.takes.contains("figure") {
        figures::tighten(laying, act, thing, has_effort, &using, &mut draft);
    }
    draft
}

/// What the act does to one thing, and what it asks of it.
fn done_at(
    laying: &mut Laying<'_>,
    act: &Act,
    name: &str,
    element_act: &ElementAct,
    draft: &mut Draft<'_>,
) {
    let Some(thing) = laying.model.things.get(name) else { return };
    let value = element_act.to;
    draft.effects.extend(value.map(|value| Effect::Set { variable: thing.variable, value }));
    draft.assertions.extend(laying.world.needs_of(laying.model, name, element_act));
    let (effects, assertions) = oil::of_act(laying, name, element_act, thing.span);
    draft.effects.extend(effects);
    draft.assertions.extend(assertions);
    let (effects, assertions) = used::of_act(laying, name, element_act);
    draft.effects.extend(effects);
    draft.assertions.extend(assertions);
    let due = laying.inspection_due(name, &act.verb.text, &act.clauses, act.span);
    draft.effects.extend(due);
}

/// So many points are listed; more are counted.
const MOST_LISTED: usize = 6;

/// How a thing is said that stands at points: always with them, or a fitter would do one and take it for all.
pub(super) fn words_at(laying: &mut Laying<'_>, name: &Name, here: &[Name]) -> Words {
    let Some(points) = laying.model.points.get(&name.text) else {
        return laying.words(&name.text);
    };
    if let [one] = here {
        return laying.words(&one.text);
    }
    if here.len() == points.len() && points.len() > MOST_LISTED {
        return Words::of(&at_point(&name.text, &format!("all {} points", points.len())));
    }
    let prefix = at_point(&name.text, "");
    let points = here.iter().filter_map(|one| one.text.strip_prefix(&prefix));
    let points: Vec<&str> = points.collect();
    Words::of(&at_point(&name.text, &listed(&points, "and")))
}

fn draft_new_part(laying: &mut Laying<'_>, words: &Words, count: u64) {
    let quantity = Quantity {
        value: Exact::from_integer(count.into()),
        kind: Units::NUMBER,
        unit: Units::ONE,
        decimals: 0,
        written: count.to_string(),
    };
    let material = Material {
        words: words.clone(),
        quantity: Some(quantity),
        sizes: Vec::new(),
        shelf_life_months: None,
        new_part: true,
        maybe: laying.here.only_on_some_ways(),
    };
    laying.build.material(material, &laying.world.units);
}

/// A quantity and a sense, where the act takes them.
fn how_much(
    laying: &mut Laying<'_>,
    object: &DoneTo<'_>,
    element_act: &ElementAct,
    draft: &mut Draft<'_>,
) {
    let form = format!("{} {}", element_act.verb, object.thing.text);
    let takes_quantity =
        element_act.takes.contains("quantity") || element_act.takes.contains("content");
    if let Some(written) = object.quantity {
        if takes_quantity {
            let content =
                laying.model.any_of(&object.thing.text).and_then(|of| of.content.as_ref());
            let kind = content.and_then(|(amount, _)| Some(amount.as_ref()?.kind));
            let quantity = laying.quantity(written, kind);
            if let Some(quantity) = quantity {
                draft.say("quantity", LineValue::Quantity(quantity));
            }
        } else {
            let (verb, span) = (element_act.verb.clone(), written.span);
            let form = form.clone();
            laying.found.add(&ObjectDoesNotFit { verb, form, span, missing: false });
        }
    }
    if let Some(first) = object.senses.first() {
        if element_act.takes.contains("sense") {
            let senses: Vec<&str> = object.senses.iter().map(|sense| sense.text.as_str()).collect();
            draft.say("sense", LineValue::Text(senses.join(" ")));
        } else {
            let (verb, span) = (element_act.verb.clone(), first.span);
            laying.found.add(&ObjectDoesNotFit { verb, form, span, missing: false });
        }
    }
}

fn unknown_verb(laying: &mut Laying<'_>, act: &Act) {
    let built_in = VERBS.iter().map(|verb| verb.word);
    let declared = laying.world.elements.values().flat_map(|element| element.acts.keys());
    let known = built_in.chain(declared.map(String::as_str));
    let near = nearest(&act.verb.text, known);
    let takes = act.objects.first().and_then(|object| {
        let Object::Name(name) = object else { return None };
        Some((name.text.clone(), acts_of(laying, &name.text)))
    });
    let takes = takes.filter(|(_, acts)| !acts.is_empty());
    let (verb, span) = (act.verb.text.clone(), act.verb.span);
    let instead = instead(laying, act);
    let near = near.filter(|_| instead.is_none());
    laying.found.add(&UnknownVerb { verb, span, near, takes, instead });
}

/// How a line is written whose first word is no verb: a title without quotes, a thing ahead of its verb, a subtask.
fn instead(laying: &Laying<'_>, act: &Act) -> Option<String> {
    let first = act.verb.text.as_str();
    if ["title", "purpose", "step", "section", "note", "not", "confirm"].contains(&first) {
        return Some(format!("texts stand in quotes: {first} \"…\""));
    }
    if first == "crew" {
        let names = act.objects.iter().filter_map(|object| {
            let Object::Name(name) = object else { return None };
            Some(name.text.as_str())
        });
        return Some(format!("a comma parts names: crew {}", names.collect::<Vec<_>>().join(", ")));
    }
    let Some(object) = act.objects.first() else {
        return Some(format!("where it is a subtask, write: do {first}"));
    };
    let Object::Name(verb) = object else { return None };
    let acts = acts_of(laying, first);
    acts.contains(&verb.text).then(|| format!("the verb stands first: {} {first}", verb.text))
}
