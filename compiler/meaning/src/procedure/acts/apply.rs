//! `apply CONSUMABLE to THING, …`

use super::super::laying::Laying;
use super::draft::Draft;
use super::shape::{Bodies, names, one_name};
use super::{Lay, Verb, oil};
use crate::findings::hardware::MadeSlippery;
use crate::findings::names::SaysTooLittle;
use crate::world::Consumable;
use locknut_graph::{ActKind, LineValue, Material};
use locknut_syntax::tree::{Act, Name};

const FORM: &str = "apply CONSUMABLE to THING";

pub(super) const VERB: Verb = Verb {
    word: "apply",
    form: FORM,
    clauses: &["to", "at", "using"],
    bodies: Bodies::None,
    lay: Lay::Lines(apply),
};

/// One act for each thing.
fn apply<'w>(laying: &mut Laying<'w>, act: &'w Act) -> Vec<Draft<'w>> {
    let Some(name) = one_name(laying, act, FORM) else { return Vec::new() };
    let world = laying.world;
    let Some(consumable) = world.consumables.get(&name.text) else {
        let known: Vec<&str> = world.consumables.keys().map(String::as_str).collect();
        laying.read(|reader, found| reader.unknown("consumable", name, known, found));
        return Vec::new();
    };
    let things: Vec<&Name> = names(act, "to");
    if things.is_empty() {
        laying.found.add(&to_what(act));
    }
    let using = super::instruments::using(laying, act);
    let mut drafts = Vec::new();
    for thing in things {
        if super::element::is_known(laying, thing) {
            let mut draft = applied(laying, act, consumable, thing);
            super::instruments::attach(laying, &using, &mut draft);
            drafts.push(draft);
        }
    }
    stock(laying, consumable);
    drafts
}

fn applied<'w>(
    laying: &mut Laying<'w>,
    act: &Act,
    consumable: &Consumable,
    thing: &Name,
) -> Draft<'w> {
    let mut draft = Draft::of(ActKind::Do, "act-apply", act.span);
    draft.say("what", LineValue::Words(consumable.words.clone()));
    let points = names(act, "at");
    let here = laying.read(|reader, found| reader.at_points(thing, &points, found));
    let here = here.unwrap_or_default();
    let words = super::element::words_at(laying, thing, &here);
    draft.say("thing", LineValue::Words(words));
    for one in &here {
        let Some(becomes) = oil::contrary(laying, &one.text, consumable) else { continue };
        let Some(declared) = laying.model.things.get(&one.text) else { continue };
        let is = declared.friction.clone().unwrap_or_default();
        let made_by = oil::put_on(&is).then(|| oil::made_by(&is).into_iter().next()).flatten();
        let (thing, declared) = (declared.words.said.clone(), declared.span);
        let (act, consumable) = (act.span, consumable.words.said.clone());
        let finding = MadeSlippery { act, thing, declared, is, becomes, consumable, made_by };
        oil::spoiled(laying, &one.text, finding);
    }
    for thing in &here {
        if consumable.purpose.contains("cleans") {
            oil::cleaned(laying, &thing.text);
        }
        draft.effects.extend(oil::applied(laying, &thing.text, consumable));
    }
    draft.things = here.into_iter().map(|thing| thing.text).collect();
    draft
}

fn stock(laying: &mut Laying<'_>, consumable: &Consumable) {
    let material = Material {
        words: consumable.words.clone(),
        quantity: None,
        sizes: Vec::new(),
        shelf_life_months: consumable.shelf_life_months,
        new_part: false,
        maybe: laying.here.only_on_some_ways(),
    };
    laying.build.material(material, &laying.world.units);
}

fn to_what(act: &Act) -> SaysTooLittle<'static> {
    SaysTooLittle {
        what: "this `apply`".to_owned(),
        lacks: "not to what",
        span: act.span,
        consequence: "the technician cannot tell where it goes",
        mend: "write: apply CONSUMABLE to THING",
    }
}
