//! Sets of fasteners that hold one part, beside each other: what looks alike must be alike.

use crate::findings::hardware::{MixedClasses, TwoFigures};
use crate::world::{Model, ModelThing};
use locknut_finding::Findings;
use locknut_graph::Stage;
use locknut_quantity::Range;
use std::collections::BTreeMap;

pub(super) fn check(model: &Model, found: &mut Findings) {
    let mut all: Vec<&ModelThing> = model.things.values().collect();
    all.sort_by_key(|thing| thing.span);
    mixed(&all, found);
    differing(&all, found);
}

/// Sets of one thread and different classes that fasten one part.
fn mixed(all: &[&ModelThing], found: &mut Findings) {
    let mut first: BTreeMap<(&str, &str), &ModelThing> = BTreeMap::new();
    for &thing in all {
        let (Some(thread), Some(class)) = (&thing.thread, &thing.strength) else { continue };
        for part in thing.relations.get("fastens").into_iter().flatten() {
            let before = *first.entry((part, thread)).or_insert(thing);
            let Some(other) = before.strength.as_ref().filter(|other| *other != class) else {
                continue;
            };
            let at = |thing: &ModelThing| thing.fastening.class_at.unwrap_or(thing.span);
            found.add(&MixedClasses {
                thing: thing.words.said.clone(),
                class: class.clone(),
                span: at(thing),
                other: before.words.said.clone(),
                other_class: other.clone(),
                other_at: at(before),
                thread: thread.clone(),
                part: part.replace('-', " "),
            });
        }
    }
}

/// Sets that are alike in all that is said of them, fasten one part and are tightened to different torques.
fn differing(all: &[&ModelThing], found: &mut Findings) {
    let mut before: BTreeMap<&str, Vec<&ModelThing>> = BTreeMap::new();
    for &thing in all {
        let (Some(thread), Some(class)) = (&thing.thread, &thing.strength) else { continue };
        for part in thing.relations.get("fastens").into_iter().flatten() {
            let others = before.entry(part).or_default();
            let other = others.iter().find(|other| alike(thing, other)).copied();
            others.push(thing);
            let Some(other) = other.filter(|other| torques(other) != torques(thing)) else {
                continue;
            };
            let at = |thing: &ModelThing| thing.fastening.tightened_at.unwrap_or(thing.span);
            let condition = thing.friction.iter().map(|condition| format!(", {condition}"));
            found.add(&TwoFigures {
                thing: thing.words.said.clone(),
                figure: figure(thing),
                span: at(thing),
                other: other.words.said.clone(),
                other_figure: figure(other),
                other_at: at(other),
                fastener: format!("{thread} of class {class}{}", condition.collect::<String>()),
                part: part.replace('-', " "),
            });
        }
    }
}

/// Whether two sets, both of them with a torque, cannot be told apart by what is said of them.
fn alike(one: &ModelThing, other: &ModelThing) -> bool {
    let (own, others) = (&one.fastening, &other.fastening);
    let same_metal = one.thread == other.thread
        && one.strength == other.strength
        && one.friction == other.friction
        && one.marks == other.marks;
    let same_faces = own.friction == others.friction
        && own.head_friction == others.head_friction
        && own.prevailing == others.prevailing
        && own.bearing == others.bearing
        && own.hole == others.hole;
    let told = [one, other].into_iter().all(|set| !torques(set).is_empty());
    same_metal && same_faces && own.carries == others.carries && told
}

/// The torques that a set is tightened to, pass by pass.
fn torques(thing: &ModelThing) -> Vec<&Range> {
    let passes = thing.tightening.iter().filter(|stage| matches!(stage, Stage::Torque(_)));
    passes.map(|(Stage::Torque(limit) | Stage::Angle(limit))| &limit.range).collect()
}

/// `20 ± 2 N·m, then 44 ± 2 N·m`
fn figure(thing: &ModelThing) -> String {
    let written = thing.tightening.iter().map(|stage| {
        let (Stage::Torque(limit) | Stage::Angle(limit)) = stage;
        limit.written.as_str()
    });
    written.collect::<Vec<_>>().join(", then ")
}
