//! `scale ha "Shore A" 0 .. 100`: a gauge's own scale is a kind and a unit of its own.

use crate::findings::names::DoubledName;
use crate::world::World;
use crate::world::parts::Parts;
use locknut_finding::{Findings, Span};
use locknut_quantity::{Exact, Kind, Unit};
use locknut_syntax::tree::{Name, Text, Thing};
use std::collections::BTreeMap;

/// Adds the scales of all instruments, before any figure on them is read. Several instruments may
/// have the same scale.
pub(in crate::world) fn scales(things: &[&Thing], world: &mut World, found: &mut Findings) {
    let mut known: BTreeMap<String, (String, Span)> = BTreeMap::new();
    for thing in things.iter().filter(|thing| thing.keyword.text == "instrument") {
        for attribute in &thing.attributes {
            let Some((name, words)) = scale(&mut Parts::of(attribute)) else { continue };
            let said = words.map_or_else(|| name.text.clone(), Text::plain);
            match known.get(&name.text) {
                Some((other, _)) if *other == said => {}
                Some((_, first)) => doubled(name, *first, found),
                None => {
                    if world.units.spelled(&name.text).is_empty() {
                        add(name, &said, world);
                        known.insert(name.text.clone(), (said, name.span));
                    } else {
                        doubled(name, name.span, found);
                    }
                }
            }
        }
    }
}

/// The scale's name and words.
pub(super) fn scale<'t>(parts: &mut Parts<'t>) -> Option<(&'t Name, Option<&'t Text>)> {
    if !parts.says(&["scale"]) {
        return None;
    }
    Some((parts.word()?, parts.text()))
}

fn add(name: &Name, said: &str, world: &mut World) {
    let kind = Kind {
        name: name.text.clone(),
        difference: None,
        qualifier: None,
        dimension: None,
        logarithmic: false,
        floor: None,
    };
    let kind = world.units.add_kind(kind);
    world.units.add_unit(Unit {
        name: name.text.clone(),
        kind,
        factor: Exact::from_integer(1.into()),
        zero: Exact::from_integer(0.into()),
        spellings: Vec::new(),
        system: None,
        counterpart: None,
        close: false,
        source: None,
    });
    world.own_scales.insert(kind, said.to_owned());
}

fn doubled(name: &Name, first: Span, found: &mut Findings) {
    let (again, what) = (name.span, "scale, and another unit or scale is spelled so".to_owned());
    found.add(&DoubledName { what, name: name.text.clone(), first, again });
}
