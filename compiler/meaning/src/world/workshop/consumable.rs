//! `consumable shim-kit { sizes 0.20 mm "HC-4401", 0.30 mm "HC-4402" }`

use super::{months, not_known, zero};
use crate::findings::names::{OneNumberForTwo, SaidTwice};
use crate::findings::quantities::{KindsApart, a_kind};
use crate::findings::readings::OtherUnit;
use crate::world::parts::Parts;
use crate::world::read::{NoReadings, Reader, lent};
use crate::world::{Consumable, World};
use locknut_finding::{Findings, Span};
use locknut_graph::Words;
use locknut_quantity::Quantity;
use locknut_syntax::tree::{Attribute, Expression, LimitForm, Text, Thing};
use std::collections::{BTreeMap, BTreeSet};

const WORDS: &[&str] = &["sizes", "shelf", "oils", "greases", "fills", "seals", "locks", "cleans"];
const FORMS: &[&str] = &[
    "what it does (oils, greases, fills, seals, locks …)",
    "sizes 0.20 mm \"NUMBER\", …",
    "shelf life N months",
];

/// All consumables.
pub(in crate::world) fn consumables(
    things: &[&Thing],
    world: &World,
    found: &mut Findings,
) -> BTreeMap<String, Consumable> {
    let reader = Reader { world, model: None, readings: &NoReadings };
    let all = things.iter().filter(|thing| thing.keyword.text == "consumable");
    let mut numbered = Vec::new();
    let read =
        |thing: &&Thing| (thing.name.text.clone(), consumable(thing, reader, &mut numbered, found));
    let consumables = all.map(read).collect();
    one_number(&numbered, found);
    consumables
}

/// A size with a part number that is its own, not that of a whole kit.
struct Numbered {
    number: String,
    quantity: Quantity,
    /// `3 mm of the shims`
    said: String,
    span: Span,
}

/// Says so where one part number stands at two sizes.
fn one_number(numbered: &[Numbered], found: &mut Findings) {
    let mut first: BTreeMap<&str, &Numbered> = BTreeMap::new();
    for size in numbered {
        let other = *first.entry(&size.number).or_insert(size);
        let same = |one: &Quantity, two: &Quantity| one.kind == two.kind && one.value == two.value;
        if !same(&other.quantity, &size.quantity) {
            found.add(&OneNumberForTwo {
                number: size.number.clone(),
                size: size.said.clone(),
                place: size.span,
                other: other.said.clone(),
                other_at: other.span,
            });
        }
    }
}

fn consumable(
    thing: &Thing,
    reader: Reader<'_>,
    numbered: &mut Vec<Numbered>,
    found: &mut Findings,
) -> Consumable {
    let mut consumable = Consumable {
        words: Words::of(&thing.name.text),
        purpose: BTreeSet::new(),
        sizes: Vec::new(),
        shelf_life_months: None,
        exact_size: None,
        span: thing.name.span,
    };
    let mut sizes: Vec<Size<'_>> = Vec::new();
    for attribute in &thing.attributes {
        let mut parts = Parts::of(attribute);
        let starts = parts.says(&["sizes"]);
        if starts || (!sizes.is_empty() && parts.ahead().is_none()) {
            match size(&mut parts, attribute) {
                Some(size) if parts.done() => sizes.push(size),
                _ => not_known(thing, attribute, WORDS, FORMS, reader, found),
            }
        } else if !said(&mut parts, &mut consumable, reader, found) || !parts.done() {
            not_known(thing, attribute, WORDS, FORMS, reader, found);
        }
    }
    let read = read_sizes(&sizes, reader, found);
    other_unit(&consumable, &read, reader, found);
    let one_for_all =
        |number: &String| read.iter().all(|(_, at)| at.number.as_ref() == Some(number));
    for (quantity, size) in &read {
        let Some(number) = size.number.as_ref().filter(|number| !one_for_all(number)) else {
            continue;
        };
        numbered.push(Numbered {
            number: number.clone(),
            quantity: quantity.clone(),
            said: format!("{} of the {}", quantity.written, consumable.words.said),
            span: size.span,
        });
    }
    let bare = |(quantity, size): (Quantity, &Size<'_>)| (quantity, size.number.clone());
    consumable.sizes = read.into_iter().map(bare).collect();
    consumable
}

/// Says so where one size of three or more stands in another unit than all the others.
fn other_unit(
    consumable: &Consumable,
    read: &[(Quantity, &Size<'_>)],
    reader: Reader<'_>,
    found: &mut Findings,
) {
    for (at, (quantity, size)) in read.iter().enumerate() {
        let others = read.iter().enumerate().filter(|(other, _)| *other != at);
        let mut units = others.map(|(_, (other, _))| other.unit);
        let Some(unit) = units.next().filter(|unit| read.len() > 2 && *unit != quantity.unit)
        else {
            continue;
        };
        if units.all(|other| other == unit) {
            found.add(&OtherUnit {
                set: consumable.words.said.clone(),
                size: quantity.written.clone(),
                span: size.span,
                unit: reader.units().unit(unit).name.clone(),
            });
        }
    }
}

fn said(
    parts: &mut Parts<'_>,
    consumable: &mut Consumable,
    reader: Reader<'_>,
    found: &mut Findings,
) -> bool {
    if parts.says(&["shelf", "life"]) {
        let said = months(parts, reader, found);
        consumable.shelf_life_months = said.flatten();
        return said.is_some();
    }
    // What it does is one word; a workshop's own word is as good as ours.
    let Some(word) = parts.word().filter(|word| word.text.ends_with('s')) else { return false };
    consumable.purpose.insert(word.text.clone());
    true
}

/// A size as written, with its part number.
struct Size<'t> {
    figure: &'t Expression,
    number: Option<String>,
    span: Span,
}

fn size<'t>(parts: &mut Parts<'t>, attribute: &Attribute) -> Option<Size<'t>> {
    let LimitForm::Just(figure) = &parts.limit()?.form else { return None };
    Some(Size { figure, number: parts.text().map(Text::plain), span: attribute.span })
}

/// Ascending; a unit may stand once, at the end.
fn read_sizes<'s, 't>(
    sizes: &'s [Size<'t>],
    reader: Reader<'_>,
    found: &mut Findings,
) -> Vec<(Quantity, &'s Size<'t>)> {
    let Some(last) = sizes.last() else { return Vec::new() };
    let mut read: Vec<(Quantity, &Size<'_>)> = Vec::new();
    for size in sizes {
        let Some(quantity) = reader.value(&lent(size.figure, last.figure), None, found) else {
            continue;
        };
        if fits_among(&quantity, size, &read, reader, found) {
            read.push((quantity, size));
        }
    }
    read.sort_by(|(one, _), (other, _)| one.value.cmp(&other.value));
    read
}

/// Sizes are of one kind, more than nothing, and each there once.
fn fits_among(
    quantity: &Quantity,
    size: &Size<'_>,
    read: &[(Quantity, &Size<'_>)],
    reader: Reader<'_>,
    found: &mut Findings,
) -> bool {
    if quantity.value <= zero() {
        let why = "a size is more than nothing".to_owned();
        reader.impossible(size.span, why, None, found);
        return false;
    }
    if let Some((first, at)) = read.first().filter(|(first, _)| first.kind != quantity.kind) {
        let units = reader.units();
        found.add(&KindsApart {
            done: "sizes of one kit",
            left: (a_kind(units, first.kind), at.span),
            right: (a_kind(units, quantity.kind), size.span),
            own_scale: false,
            logarithmic: false,
        });
        return false;
    }
    if let Some((_, first)) = read.iter().find(|(other, _)| other.value == quantity.value) {
        let what = format!("the size {}", quantity.written);
        found.add(&SaidTwice { what, first: first.span, again: size.span });
        return false;
    }
    true
}
