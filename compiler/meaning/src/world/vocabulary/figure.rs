//! Threads, strength classes, friction conditions, efforts: named sets of figures.

use crate::findings::names::UnknownAttribute;
use crate::world::declared::FigureLine;
use crate::world::figures::ByName;
use crate::world::parts::Parts;
use crate::world::read::{NoReadings, Reader};
use crate::world::{Figure, World};
use locknut_finding::Findings;
use locknut_graph::Words;
use locknut_quantity::KindId;
use std::collections::BTreeMap;

/// The figures of all lines.
pub(in crate::world) fn figures(
    lines: &[FigureLine<'_>],
    world: &World,
    found: &mut Findings,
) -> ByName {
    let reader = Reader { world, model: None, readings: &NoReadings };
    let mut figures = ByName::new();
    for line in lines {
        let named = figures.entry(line.keyword.text.clone()).or_default();
        named.insert(line.name.text.clone(), figure(line, reader, found));
    }
    figures
}

fn figure(line: &FigureLine<'_>, reader: Reader<'_>, found: &mut Findings) -> Figure {
    let mut figure = Figure {
        keyword: line.keyword.text.clone(),
        words: Words::of(&line.name.text),
        values: BTreeMap::new(),
        source: None,
        span: line.span,
    };
    for attribute in line.attributes {
        let mut parts = Parts::of(attribute);
        let known = said(&mut parts, &mut figure, reader, found);
        if !known || !parts.done() {
            found.add(&UnknownAttribute {
                kind: format!("the {} {}", line.keyword.text, line.name.text),
                written: reader.written(attribute.span),
                span: attribute.span,
                near: None,
                word: attribute.span,
                like: None,
                takes: [
                    "a name with its figure",
                    "\"…\" (how it is said)",
                    "per \"…\" (its source)",
                ]
                .map(str::to_owned)
                .to_vec(),
            });
        }
    }
    figure
}

/// `proof 640 MPa`, `force 3 .. 8 N "light finger pressure"`, `per "ISO 898-1"`, `"dry steel"`.
fn said(
    parts: &mut Parts<'_>,
    figure: &mut Figure,
    reader: Reader<'_>,
    found: &mut Findings,
) -> bool {
    if let Some(text) = parts.text() {
        figure.words.said = text.plain();
        return true;
    }
    if parts.says(&["per"]) {
        figure.source = parts.text().map(locknut_syntax::tree::Text::plain);
        return figure.source.is_some();
    }
    let Some(name) = parts.word() else { return false };
    let Some(limit) = parts.limit() else { return false };
    let kind = reader.units().kind_named(&name.text).or_else(|| plain_kind(limit, reader));
    if let Some(limit) = reader.limit(limit, kind, found) {
        figure.values.insert(name.text.clone(), limit);
    }
    if let Some(text) = parts.text() {
        figure.words.said = text.plain();
    }
    true
}

/// A table's figures say by their name what they are, `proof 640 MPa`: no gauge and no zero is meant,
/// so the first kind that its unit has without a word beside it will do.
fn plain_kind(limit: &locknut_syntax::tree::Limit, reader: Reader<'_>) -> Option<KindId> {
    let units = reader.units();
    let unit = crate::world::read::figures(limit).last()?.unit.as_ref()?;
    let kinds = units.spelled(&unit.text).iter().map(|unit| units.unit(*unit).kind);
    let mut plain = kinds.filter(|kind| units.kind(*kind).qualifier.is_none());
    plain.find(|kind| units.difference_of(*kind) == *kind)
}
