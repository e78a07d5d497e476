//! Relations seen from their other end, taken over from other things, and circles among them.

use crate::findings::names::{Circle, SaysTooLittle, WrongThing, listed};
use crate::world::order::in_order;
use crate::world::{Model, Need, RelationKind, World};
use locknut_finding::{Findings, Span};
use std::collections::{BTreeMap, BTreeSet};

/// Completes what the things themselves have said.
pub(super) fn complete(world: &World, model: &mut Model, found: &mut Findings) {
    seen_from_the_other_end(world, model);
    taken_over(world, model);
    circles(world, model, found);
    can_be_met(world, model, found);
    says_what_is_asked(world, model, found);
}

/// One relation of one thing.
struct Link<'w> {
    from: String,
    kind: &'w RelationKind,
    to: String,
    span: Span,
}

/// Every relation that a thing says itself.
fn links<'w>(world: &'w World, model: &Model) -> Vec<Link<'w>> {
    let mut links = Vec::new();
    for (name, thing) in &model.things {
        let Some(element) = world.elements.get(&thing.element) else { continue };
        for (relation, others) in &thing.relations {
            let Some(kind) = element.relations.get(relation) else { continue };
            for to in others {
                let key = (relation.clone(), to.clone());
                let span = thing.relation_spans.get(&key).copied().unwrap_or(thing.span);
                links.push(Link { from: name.clone(), kind, to: to.clone(), span });
            }
        }
    }
    links
}

/// Bolts that fasten a cover: the cover is fastened by them.
fn seen_from_the_other_end(world: &World, model: &mut Model) {
    for link in links(world, model) {
        let Some(inverse) = &link.kind.inverse else { continue };
        if let Some(other) = model.things.get_mut(&link.to) {
            other.relate(inverse, &link.from, link.span);
        }
    }
}

/// A fastener stands behind whatever its part stands behind: `relation fastens : part, shares behind`.
fn taken_over(world: &World, model: &mut Model) {
    let links = links(world, model);
    let mut own: BTreeMap<(&str, &str), Vec<&Link<'_>>> = BTreeMap::new();
    let mut sharing: BTreeMap<&str, Vec<&Link<'_>>> = BTreeMap::new();
    for link in &links {
        own.entry((&link.from, &link.kind.name)).or_default().push(link);
        if !link.kind.shares.is_empty() {
            sharing.entry(&link.from).or_default().push(link);
        }
    }
    let mut taken: Vec<(String, String, String, Span)> = Vec::new();
    for (name, first) in &sharing {
        let mut seen = BTreeSet::from([*name]);
        let mut left: Vec<(&Link<'_>, Span)> =
            first.iter().map(|link| (*link, link.span)).collect();
        while let Some((link, span)) = left.pop() {
            if !seen.insert(&link.to) {
                continue;
            }
            for relation in &link.kind.shares {
                let others = own.get(&(link.to.as_str(), relation.as_str()));
                for other in others.into_iter().flatten() {
                    taken.push(((*name).to_owned(), relation.clone(), other.to.clone(), span));
                }
            }
            let further = sharing.get(link.to.as_str()).into_iter().flatten();
            left.extend(further.map(|link| (*link, span)));
        }
    }
    for (name, relation, to, span) in taken {
        if let Some(thing) = model.things.get_mut(&name) {
            thing.relate(&relation, &to, span);
        }
    }
}

/// What stands behind itself could never come off. A fastener counts as behind what it fastens is
/// behind, so a part behind its own bolts is found here, too.
fn circles(world: &World, model: &Model, found: &mut Findings) {
    let names: Vec<&String> = model.things.keys().collect();
    let position: BTreeMap<&str, usize> =
        names.iter().enumerate().map(|(at, name)| (name.as_str(), at)).collect();
    for relation in deep_relations(world) {
        let needs: Vec<Vec<usize>> = model
            .things
            .values()
            .map(|thing| {
                let others = thing.relations.get(relation).into_iter().flatten();
                others.filter_map(|other| position.get(other.as_str()).copied()).collect()
            })
            .collect();
        for circle in in_order(&needs).circles {
            let around: Vec<&String> =
                circle.iter().filter_map(|at| names.get(*at).copied()).collect();
            found.add(&Circle {
                link: format!("stands {relation}"),
                round: around
                    .iter()
                    .enumerate()
                    .map(|(at, name)| {
                        let next = around.get((at + 1) % around.len()).copied().unwrap_or(name);
                        ((*name).clone(), place(model, name, relation, next))
                    })
                    .collect(),
                consequence: "none of them could ever come off first",
            });
        }
    }
}

fn place(model: &Model, name: &str, relation: &str, next: &str) -> Span {
    let Some(thing) = model.things.get(name) else { return Span::default() };
    let key = (relation.to_owned(), next.to_owned());
    thing.relation_spans.get(&key).copied().unwrap_or(thing.span)
}

/// Relations that are followed through other things of the same relation.
fn deep_relations(world: &World) -> BTreeSet<&str> {
    let all = world.elements.values().flat_map(|element| element.relations.values());
    all.filter(|kind| kind.any_depth).map(|kind| kind.name.as_str()).collect()
}

/// What an act needs of a related thing, that thing must be able to be: nothing can stand behind a
/// shaft, which never is removed.
fn can_be_met(world: &World, model: &Model, found: &mut Findings) {
    let mut told: BTreeSet<(Span, String)> = BTreeSet::new();
    for thing in model.things.values() {
        let Some(element) = world.elements.get(&thing.element) else { continue };
        let of_acts = element.acts.values().flat_map(|act| &act.needs);
        let of_rules = element.nevers.iter().flat_map(|never| &never.needs);
        for need in of_acts.chain(of_rules) {
            let Need::Each { relation, negated: false, values, .. } = need else { continue };
            for other in thing.relations.get(relation).into_iter().flatten() {
                let Some(id) = model.variable_named.get(other) else { continue };
                let Some(variable) = model.variables.get(usize::from(id.0)) else { continue };
                let can =
                    |value: &String| variable.values.iter().any(|own| own.words.name == *value);
                let key = (relation.clone(), other.clone());
                let span = thing.relation_spans.get(&key).copied().unwrap_or(thing.span);
                if values.iter().any(can) || !told.insert((span, other.clone())) {
                    continue;
                }
                let is = model.things.get(other).map_or("state", |thing| thing.element.as_str());
                found.add(&WrongThing {
                    relation: relation.clone(),
                    name: other.clone(),
                    span,
                    wanted: format!("thing that can be {}", listed(values, "or")),
                    found: is.to_owned(),
                    declared: variable.span,
                });
            }
        }
    }
}

/// An act that asks for what the thing declares itself (`dead`, `bars`) asks in vain where nothing is
/// declared: a lock that bars nothing, a plug that carries a state and is dead nobody knows when.
fn says_what_is_asked(world: &World, model: &Model, found: &mut Findings) {
    for thing in model.things.values() {
        let Some(element) = world.elements.get(&thing.element) else { continue };
        let to_state = |kind: &RelationKind| kind.to.as_deref() == Some("state");
        let carries = element
            .relations
            .values()
            .any(|kind| to_state(kind) && thing.relations.contains_key(&kind.name));
        let asked = element.acts.values().flat_map(|act| &act.needs).any(|need| match need {
            Need::Own { word, .. } if !thing.own_conditions.contains_key(word) => {
                carries || element.relations.contains_key(word)
            }
            Need::Own { .. } | Need::Each { .. } | Need::Mark { .. } => false,
        });
        if asked {
            found.add(&SaysTooLittle {
                what: thing.words.said.clone(),
                lacks: "not what its acts ask for",
                span: thing.span,
                consequence: "nothing would keep anyone from doing them at the wrong time",
                mend: "add what its element asks for, as in “dead when supply is isolated” or “bars supply at isolated”",
            });
        }
    }
}

/// Which things lead to which: those that stand behind a thing, or fasten it.
pub(super) struct Leading<'m> {
    before: BTreeMap<&'m str, Vec<&'m str>>,
}

impl<'m> Leading<'m> {
    pub(super) fn of(world: &World, model: &'m Model) -> Self {
        let deep = deep_relations(world);
        let mut before: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
        for (name, thing) in &model.things {
            let element = world.elements.get(&thing.element);
            for (relation, others) in &thing.relations {
                let kind = element.and_then(|element| element.relations.get(relation));
                let shares = kind.is_some_and(|kind| !kind.shares.is_empty());
                for other in others.iter().filter(|_| shares || deep.contains(relation.as_str())) {
                    before.entry(other).or_default().push(name);
                }
            }
        }
        Self { before }
    }

    /// A thing, what stands behind it at any depth, and whatever fastens it or them.
    pub(super) fn guarded_by(&self, target: &'m str) -> BTreeSet<String> {
        let mut all = BTreeSet::from([target.to_owned()]);
        let mut left = vec![target];
        while let Some(name) = left.pop() {
            for next in self.before.get(name).into_iter().flatten() {
                if all.insert((*next).to_owned()) {
                    left.push(next);
                }
            }
        }
        all
    }
}
