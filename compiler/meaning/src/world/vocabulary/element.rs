//! `element bolts { … }`: the words of the trade.

use super::element_act::{Rule, act, never};
use crate::findings::names::{DoubledName, UnknownAttribute, UnknownName};
use crate::world::declared::ElementLines;
use crate::world::names::Names;
use crate::world::near::nearest;
use crate::world::parts::Parts;
use crate::world::read::one_line;
use crate::world::{ElementKind, RelationKind};
use locknut_finding::{Findings, Sources, Span};
use locknut_syntax::tree::{Attribute, ElementLine, Name};
use std::collections::{BTreeMap, BTreeSet};

/// The value of a thing without states: it is there.
const THERE: &str = "in-place";
/// Where a thing is. `in` is a word of the language itself, so no vocabulary needs to declare it.
const IN: &str = "in";

/// All elements. Their acts are read last, since a need may name what another element declares.
pub(in crate::world) fn elements(
    declared: &[ElementLines<'_>],
    sources: &Sources,
    found: &mut Findings,
) -> BTreeMap<String, ElementKind> {
    let mut elements: BTreeMap<String, ElementKind> = declared
        .iter()
        .map(|element| (element.name.text.clone(), element_without_acts(element, sources, found)))
        .collect();
    for element in elements.values() {
        check_relations(element, &elements, found);
    }
    let (mut acts, mut nevers) = (BTreeMap::new(), BTreeMap::new());
    for lines in declared {
        let Some(element) = elements.get(&lines.name.text) else { continue };
        let mut of_element = BTreeMap::new();
        let rules: Vec<_> = lines
            .lines
            .iter()
            .filter_map(|line| match line {
                ElementLine::Never { values, unless, because, span } => {
                    let (unless, because) = (unless.as_ref(), because.as_ref());
                    let line = Rule { values, unless, because, span: *span };
                    never(line, element, &elements, found)
                }
                ElementLine::States { .. }
                | ElementLine::Attribute { .. }
                | ElementLine::Mark { .. }
                | ElementLine::Relation { .. }
                | ElementLine::Act(_) => None,
            })
            .collect();
        nevers.insert(lines.name.text.clone(), rules);
        for line in lines.lines {
            let ElementLine::Act(line) = line else { continue };
            let read = act(line, element, &elements, found);
            if let Some(first) = of_element.insert(line.verb.text.clone(), read) {
                doubled("act", &line.verb, first.span, found);
            }
        }
        acts.insert(lines.name.text.clone(), of_element);
    }
    for (name, acts) in acts {
        if let Some(element) = elements.get_mut(&name) {
            element.acts = acts;
        }
    }
    for (name, nevers) in nevers {
        if let Some(element) = elements.get_mut(&name) {
            element.nevers = nevers;
        }
    }
    elements
}

/// The acts that bring an element to a value.
pub(crate) fn verbs(elements: &BTreeMap<String, ElementKind>) -> locknut_graph::Verbs {
    let verbs = |element: &ElementKind| {
        let bringing = element.acts.values().filter_map(|act| {
            let (word, from, new) = (act.verb.clone(), act.from.clone(), act.new);
            Some(locknut_graph::Verb { word, from, to: act.to?, new })
        });
        bringing.collect()
    };
    elements.iter().map(|(name, element)| (name.clone(), verbs(element))).collect()
}

fn element_without_acts(
    declared: &ElementLines<'_>,
    sources: &Sources,
    found: &mut Findings,
) -> ElementKind {
    let mut element = ElementKind {
        name: declared.name.text.clone(),
        states: Vec::new(),
        attributes: BTreeSet::new(),
        marks: BTreeSet::new(),
        relations: BTreeMap::from([(IN.to_owned(), inside(declared.name.span))]),
        acts: BTreeMap::new(),
        nevers: Vec::new(),
        doc: declared.doc.cloned(),
        span: declared.name.span,
    };
    let mut names = Names::default();
    for line in declared.lines {
        match line {
            ElementLine::States { values, .. } => {
                for value in values {
                    if names.once(format!("the state {}", value.text), value.span, found) {
                        element.states.push(value.text.clone());
                    }
                }
            }
            ElementLine::Attribute { names, .. } => {
                element.attributes.extend(names.iter().map(|name| name.text.clone()));
            }
            ElementLine::Mark { words, .. } => {
                let words: Vec<&str> = words.iter().map(|word| word.text.as_str()).collect();
                element.marks.insert(words.join(" "));
            }
            ElementLine::Relation { name, attributes, span } => {
                let relation = relation(name, attributes, *span, sources, found);
                if let Some(first) = element.relations.insert(name.text.clone(), relation) {
                    doubled("relation", name, first.span, found);
                }
            }
            ElementLine::Act(_) | ElementLine::Never { .. } => {}
        }
    }
    if element.states.is_empty() {
        element.states.push(THERE.to_owned());
    }
    element
}

/// `in gearbox`: any thing may be in any other; nothing is asked of it.
fn inside(span: Span) -> RelationKind {
    RelationKind {
        name: IN.to_owned(),
        to: None,
        to_span: span,
        inverse: None,
        any_depth: false,
        shares: Vec::new(),
        at_a_value: false,
        bars_while: Vec::new(),
        span,
    }
}

/// `relation fastens : part, seen from it fastened-by, shares behind`
fn relation(
    name: &Name,
    attributes: &[Attribute],
    span: Span,
    sources: &Sources,
    found: &mut Findings,
) -> RelationKind {
    let mut relation = RelationKind {
        name: name.text.clone(),
        to: None,
        to_span: span,
        inverse: None,
        any_depth: false,
        shares: Vec::new(),
        at_a_value: false,
        bars_while: Vec::new(),
        span,
    };
    for attribute in attributes {
        let mut parts = Parts::of(attribute);
        if !relation_says(&mut relation, &mut parts) || !parts.done() {
            found.add(&UnknownAttribute {
                kind: format!("the relation {}", name.text),
                written: one_line(sources.slice(attribute.span)),
                span: attribute.span,
                near: None,
                word: attribute.span,
                like: None,
                takes: [
                    "an element, state or anything (what it leads to)",
                    "seen from it NAME",
                    "at any depth",
                    "shares RELATION",
                    "at a value",
                    "while VALUE",
                ]
                .map(str::to_owned)
                .to_vec(),
            });
        }
    }
    relation
}

fn relation_says(relation: &mut RelationKind, parts: &mut Parts<'_>) -> bool {
    if parts.says(&["at", "any", "depth"]) {
        relation.any_depth = true;
    } else if parts.says(&["at", "a", "value"]) {
        relation.at_a_value = true;
    } else if parts.says(&["seen", "from", "it"]) {
        relation.inverse = parts.word().map(|word| word.text.clone());
        return relation.inverse.is_some();
    } else if parts.says(&["shares"]) {
        let Some(shared) = parts.word() else { return false };
        relation.shares.push(shared.text.clone());
    } else if parts.says(&["while"]) {
        while let Some(value) = parts.word() {
            if value.text != "or" {
                relation.bars_while.push(value.text.clone());
            }
        }
        return !relation.bars_while.is_empty();
    } else {
        let Some(to) = parts.word() else { return false };
        if relation.to.is_some() {
            return false;
        }
        relation.to = (to.text != "anything").then(|| to.text.clone());
        relation.to_span = to.span;
    }
    true
}

/// What a relation leads to is an element, or a state.
fn check_relations(
    element: &ElementKind,
    elements: &BTreeMap<String, ElementKind>,
    found: &mut Findings,
) {
    for relation in element.relations.values() {
        let Some(to) = &relation.to else { continue };
        if to != "state" && !elements.contains_key(to) {
            found.add(&UnknownName {
                wanted: "element",
                name: to.clone(),
                span: relation.to_span,
                near: nearest(to, elements.keys().map(String::as_str)),
                else_is: None,
            });
        }
    }
}

fn doubled(what: &str, name: &Name, first: Span, found: &mut Findings) {
    let (again, what) = (name.span, what.to_owned());
    found.add(&DoubledName { what, name: name.text.clone(), first, again });
}
