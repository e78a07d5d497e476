//! How many, of which thread and class, in which pattern, tightened how; and how much of what.

use super::member::Member;
use crate::findings::quantities::ImpossibleValue;
use crate::world::parts::Parts;
use crate::world::read::Reader;
use crate::world::{ModelThing, Stage};
use locknut_finding::Findings;
use locknut_quantity::KindId;
use locknut_syntax::tree::{Expression, Limit, LimitForm, Name, Number};

/// `8 of M8 class 8.8 dry`, `6.5 L of gear-oil-220`
pub(super) fn amount(
    parts: &mut Parts<'_>,
    member: &Member<'_>,
    reader: Reader<'_>,
    thing: &mut ModelThing,
    found: &mut Findings,
) -> bool {
    let has = |attribute: &str| member.kind.attributes.contains(attribute);
    let Some(limit) = parts.limit() else { return false };
    if has("content") {
        return content(limit, parts, reader, thing, found);
    }
    if !has("count") {
        return false;
    }
    let LimitForm::Just(Expression::Quantity(figure)) = &limit.form else { return false };
    if figure.unit.is_some() {
        return false;
    }
    thing.count = count(&figure.number, found);
    !has("thread") || !parts.says(&["of"]) || screwed(parts, reader, thing, found)
}

fn count(number: &Number, found: &mut Findings) -> Option<u64> {
    let count = number.text.parse().ok().filter(|count| (1..=10_000).contains(count));
    if count.is_none() {
        found.add(&ImpossibleValue {
            written: number.text.clone(),
            span: number.span,
            why: "a set has a whole number of pieces, from 1 to 10 000".to_owned(),
            instead: None,
        });
    }
    count
}

/// `M8 class 8.8 dry`
fn screwed(
    parts: &mut Parts<'_>,
    reader: Reader<'_>,
    thing: &mut ModelThing,
    found: &mut Findings,
) -> bool {
    let Some(thread) = parts.word() else { return false };
    thing.thread = figure("thread", "thread", thread, reader, found);
    if parts.says(&["class"]) {
        let Some(class) = parts.word() else { return false };
        thing.strength = figure("strength", "strength class", class, reader, found);
    }
    if let Some(friction) = parts.word() {
        thing.friction = figure("condition", "friction condition", friction, reader, found);
    }
    true
}

fn figure(
    keyword: &str,
    wanted: &'static str,
    name: &Name,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<String> {
    let figures = &reader.world.figures;
    if figures.contains_key(&(keyword.to_owned(), name.text.clone())) {
        return Some(name.text.clone());
    }
    let known = figures.keys().filter(|(of, _)| of == keyword).map(|(_, name)| name.as_str());
    reader.unknown(wanted, name, known, found);
    None
}

fn content(
    limit: &Limit,
    parts: &mut Parts<'_>,
    reader: Reader<'_>,
    thing: &mut ModelThing,
    found: &mut Findings,
) -> bool {
    let LimitForm::Just(amount) = &limit.form else { return false };
    if !parts.says(&["of"]) {
        return false;
    }
    let Some(name) = parts.word() else { return false };
    let amount = reader.value(amount, None, found);
    if !reader.world.consumables.contains_key(&name.text) {
        let known = reader.world.consumables.keys().map(String::as_str);
        reader.unknown("consumable", name, known, found);
        return true;
    }
    thing.content = Some((amount, name.text.clone()));
    true
}

/// `tightened to 60 ± 5 N·m`, `then turned 45°`, `then to 300 N·m`
pub(super) fn stage(
    parts: &mut Parts<'_>,
    reader: Reader<'_>,
    thing: &mut ModelThing,
    found: &mut Findings,
) -> bool {
    let mut ahead = *parts;
    let follows = ahead.says(&["then"]);
    let first = !follows && ahead.says(&["tightened"]);
    if !(first || (follows && !thing.tightening.is_empty())) {
        return false;
    }
    let turned = ahead.says(&["turned"]);
    if !turned && !ahead.says(&["to"]) {
        return false;
    }
    let Some(limit) = ahead.limit() else { return false };
    let kind = if turned { "angle" } else { "torque" };
    let kind: Option<KindId> = reader.units().kind_named(kind);
    if let Some(limit) = reader.limit(limit, kind, found) {
        thing.tightening.push(if turned { Stage::Angle(limit) } else { Stage::Torque(limit) });
    }
    *parts = ahead;
    true
}

/// `on pitch circle 180 mm`, `on rectangle 4 x 2`, `crosswise`: read, named and kept as written.
pub(super) fn pattern(parts: &mut Parts<'_>, reader: Reader<'_>, thing: &mut ModelThing) -> bool {
    let mut ahead = *parts;
    let known = if ahead.says(&["on", "pitch", "circle"]) || ahead.says(&["on", "circle"]) {
        ahead.limit().is_some()
    } else if ahead.says(&["on", "rectangle"]) {
        ahead.limit().is_some() && ahead.says(&["x"]) && ahead.limit().is_some()
    } else {
        ahead.says(&["crosswise"]) || ahead.says(&["in", "a", "row"])
    };
    if !known {
        return false;
    }
    let written = reader.written(parts.span);
    thing.pattern = Some(match thing.pattern.take() {
        Some(before) => format!("{before}, {written}"),
        None => written,
    });
    *parts = ahead;
    true
}
