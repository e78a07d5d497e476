//! Sealed parts: a *do not* ahead of the first act on what they stand in or behind.

use super::super::laying::Laying;
use crate::world::ModelThing;
use locknut_finding::Span;
use locknut_graph::{Line, LineValue, Words};
use std::collections::BTreeSet;

/// Cautions for sealed parts near these things, each where the reader has not been told yet.
pub(super) fn cautions(laying: &mut Laying<'_>, things: &[String], span: Span) -> Vec<Line> {
    let mut cautions = Vec::new();
    for (name, part) in &laying.model.things {
        let Some((because, otherwise, _)) = &part.sealed else { continue };
        let near = things.iter().any(|thing| stands_near(laying, part, thing));
        let told = laying
            .warned
            .iter()
            .any(|(warned, place)| warned == name && laying.here.has_passed(place));
        if !near || told {
            continue;
        }
        let mut values = vec![
            ("part".to_owned(), LineValue::Words(part.words.clone())),
            ("because".to_owned(), LineValue::Prose(because.clone())),
        ];
        let otherwise = otherwise.as_ref().map(|other| LineValue::Words(Words::of(other)));
        values.extend(otherwise.map(|other| ("otherwise".to_owned(), other)));
        let values = values.into_iter().collect();
        cautions.push(Line { phrase: "caution-sealed".to_owned(), values, span });
        laying.warned.push((name.clone(), laying.here.place()));
    }
    cautions
}

/// Whether work on `thing` comes near a sealed part: it is what the part stands in or behind, or
/// stands there too.
fn stands_near(laying: &Laying<'_>, part: &ModelThing, thing: &str) -> bool {
    let hosts_of_part = hosts(laying, part);
    if hosts_of_part.contains(thing) {
        return true;
    }
    let other = laying.model.things.get(thing).map(|other| hosts(laying, other));
    other.is_some_and(|other| other.intersection(&hosts_of_part).next().is_some())
}

/// What a thing says of itself to stand in, behind or at; not what others say of it.
fn hosts<'m>(laying: &'m Laying<'_>, thing: &'m ModelThing) -> BTreeSet<&'m str> {
    let own = laying.world.elements.get(&thing.element).map(|element| &element.relations);
    let said = thing
        .relations
        .iter()
        .filter(|(relation, _)| own.is_some_and(|own| own.contains_key(*relation)));
    let others = said.flat_map(|(_, others)| others).map(String::as_str);
    others.filter(|other| laying.model.things.contains_key(*other)).collect()
}
