//! `danger "…" at THING while COND`

use super::relation::Leading;
use crate::world::read::{NoReadings, Reader};
use crate::world::{Model, World};
use locknut_finding::Findings;
use locknut_graph::{Condition, Hazard, Signal};
use locknut_syntax::tree::{self, ModelItem, Name};
use std::collections::BTreeSet;

/// Reads the hazards of a model, with all the things that each guards.
pub(super) fn hazards(tree: &tree::Model, world: &World, model: &mut Model, found: &mut Findings) {
    let mut all = Vec::new();
    let reader = Reader { world, model: Some(model), readings: &NoReadings };
    let leading = Leading::of(world, model);
    for item in &tree.items {
        let ModelItem::Hazard { signal, text, at, condition, span } = item else { continue };
        let condition = match condition {
            None => Some(Condition::Always(true)),
            Some(condition) => reader.condition(condition, found),
        };
        let things = things(at, reader, found);
        let text = reader.prose(text, found);
        let (Some(condition), Some(things)) = (condition, things) else { continue };
        let hazard = Hazard {
            signal: signal_of(&signal.text),
            text,
            condition,
            at: things.iter().map(|name| reader.words(&name.text)).collect(),
            span: *span,
        };
        let guarded = things.iter().flat_map(|name| {
            let at_points = reader.at_points(name, &[], found).unwrap_or_default();
            let own = at_points.into_iter().filter_map(|name| {
                let (name, _) = model.things.get_key_value(&name.text)?;
                Some(leading.guarded_by(name))
            });
            own.flatten().collect::<Vec<_>>()
        });
        let guarded = guarded.collect();
        all.push((hazard, guarded));
    }
    let (hazards, guarded): (Vec<Hazard>, Vec<BTreeSet<String>>) = all.into_iter().unzip();
    model.hazards = hazards;
    model.hazard_things = guarded;
}

fn things<'t>(
    names: &'t [Name],
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<Vec<&'t Name>> {
    let model = reader.model?;
    let mut fine = true;
    for name in names.iter().filter(|name| model.any_of(&name.text).is_none()) {
        fine = false;
        if !model.broken.contains(&name.text) {
            let known = model.things.keys().map(String::as_str);
            reader.unknown("thing of this model", name, known, found);
        }
    }
    fine.then(|| names.iter().collect())
}

fn signal_of(word: &str) -> Signal {
    match word {
        "danger" => Signal::Danger,
        "warning" => Signal::Warning,
        "caution" => Signal::Caution,
        _ => Signal::Notice,
    }
}
