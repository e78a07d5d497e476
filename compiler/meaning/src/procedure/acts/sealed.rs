//! Sealed parts: a *do not* ahead of the first act on what they stand in or behind.

use super::super::here::Place;
use super::super::laying::Laying;
use crate::World;
use crate::world::{Model, ModelThing};
use locknut_finding::Span;
use locknut_graph::{Line, LineValue, Words};
use std::collections::{BTreeMap, BTreeSet};

/// The sealed parts of a model, and where the reader has been told to keep off them.
#[derive(Default)]
pub(in super::super) struct Sealed<'w> {
    /// By what they stand in or behind.
    at: BTreeMap<&'w str, BTreeSet<&'w str>>,
    told: BTreeMap<&'w str, Vec<Place>>,
}

impl<'w> Sealed<'w> {
    /// The sealed parts of a model.
    pub(in super::super) fn of(world: &World, model: &'w Model) -> Self {
        let mut sealed = Self::default();
        for (name, part) in model.things.iter().filter(|(_, part)| part.sealed.is_some()) {
            for host in hosts(world, model, part) {
                sealed.at.entry(host).or_default().insert(name);
            }
        }
        sealed
    }
}

/// Cautions for sealed parts near these things, each where the reader has not been told yet.
pub(super) fn cautions(laying: &mut Laying<'_>, things: &[String], span: Span) -> Vec<Line> {
    let mut near: BTreeSet<&str> = BTreeSet::new();
    for thing in things {
        near.extend(near_to(laying, thing));
    }
    let mut cautions = Vec::new();
    for name in near {
        let told = laying.sealed.told.entry(name).or_default();
        if told.iter().any(|place| laying.here.has_passed(place)) {
            continue;
        }
        told.push(laying.here.place());
        let part = laying.model.things.get(name);
        cautions.extend(part.and_then(|part| caution(part, span)));
    }
    cautions
}

/// Sealed parts that work on a thing comes near: they stand in or behind it, or it stands where they
/// stand.
fn near_to<'w>(laying: &Laying<'w>, thing: &str) -> BTreeSet<&'w str> {
    let at = &laying.sealed.at;
    let mut near = at.get(thing).cloned().unwrap_or_default();
    if let Some(own) = laying.model.things.get(thing) {
        let beside = hosts(laying.world, laying.model, own);
        near.extend(beside.into_iter().filter_map(|host| at.get(host)).flatten());
    }
    near
}

fn caution(part: &ModelThing, span: Span) -> Option<Line> {
    let (because, otherwise, _) = part.sealed.as_ref()?;
    let mut values = BTreeMap::from([
        ("part".to_owned(), LineValue::Words(part.words.clone())),
        ("because".to_owned(), LineValue::Prose(because.clone())),
    ]);
    if let Some(otherwise) = otherwise {
        values.insert("otherwise".to_owned(), LineValue::Words(Words::of(otherwise)));
    }
    Some(Line { phrase: "caution-sealed".to_owned(), values, span })
}

/// What a thing says of itself to stand in, behind or at; not what others say of it.
fn hosts<'m>(world: &World, model: &'m Model, thing: &'m ModelThing) -> BTreeSet<&'m str> {
    let own = world.elements.get(&thing.element).map(|element| &element.relations);
    let said = thing
        .relations
        .iter()
        .filter(|(relation, _)| own.is_some_and(|own| own.contains_key(*relation)));
    let others = said.flat_map(|(_, others)| others).map(String::as_str);
    others.filter(|other| model.things.contains_key(*other)).collect()
}
