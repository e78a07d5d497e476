//! Which things a model has: its elements, and the special tools that fit one of them.

use super::super::names::Names;
use super::points::at_point;
use super::state::add;
use crate::findings::names::{ClauseWord, SaysTooLittle, UnknownName};
use crate::world::near::nearest;
use crate::world::{ElementKind, Model, ModelThing, Tool, World};
use locknut_finding::{Findings, Span};
use locknut_graph::{Value, Variable, VariableId, VariableKind, Words};
use locknut_syntax::tree::{self, Attribute, ModelItem, Name, Part};

/// The element that every special tool is.
const SPECIAL_TOOL: &str = "special-tool";

/// An element of a model with what is said of it, still as written.
pub(super) struct Member<'t> {
    pub(super) kind: &'t ElementKind,
    pub(super) name: &'t Name,
    pub(super) attributes: &'t [Attribute],
}

/// Adds every element as a thing with its variable, in written order.
pub(super) fn members<'t>(
    tree: &'t tree::Model,
    world: &'t World,
    model: &mut Model,
    names: &mut Names,
    found: &mut Findings,
) -> Vec<Member<'t>> {
    let mut members = Vec::new();
    for item in &tree.items {
        let ModelItem::Element { kind, name, attributes, .. } = item else { continue };
        if !names.fresh("model", &kind.text, name, found) {
            continue;
        }
        let Some(kind) = world.elements.get(&kind.text) else {
            unknown_kind(kind, attributes, world, found);
            model.broken.insert(name.text.clone());
            continue;
        };
        let sort = VariableKind::Element { element: kind.name.clone() };
        let words = Words::of(&name.text);
        let variable = variable(words.clone(), kind, sort, name.span);
        if let Some(id) = add(variable, model) {
            model.things.insert(name.text.clone(), thing(words, kind, id, name.span));
            members.push(Member { kind, name, attributes });
        }
    }
    members
}

/// How the other lines of a model are written. One that is not lands among the elements.
const LINES: &[(&str, &str)] = &[
    ("title", "write: title \"…\""),
    ("series", "write: series A, B"),
    ("serial", "write: serial number"),
    ("value", "write: value NAME = FIGURE"),
    ("limit", "write: limit NAME = at most FIGURE"),
    ("state", "write: state NAME : VALUE, VALUE"),
    ("change", "write: change STATE : VALUE -> VALUE needs …"),
    ("never", "write: never … unless … because \"…\""),
    ("safe", "write: safe to leave when …"),
    ("danger", "write: danger \"…\" at THING while …"),
    ("warning", "write: warning \"…\" at THING while …"),
    ("caution", "write: caution \"…\" at THING while …"),
    ("notice", "write: notice \"…\" at THING while …"),
];

fn unknown_kind(kind: &Name, attributes: &[Attribute], world: &World, found: &mut Findings) {
    let line = LINES.iter().find(|(word, _)| *word == kind.text);
    let clause_words =
        attributes.iter().flat_map(|attribute| &attribute.parts).filter_map(|part| match part {
            Part::Word(word) if ClauseWord::WORDS.contains(&word.text.as_str()) => Some(word),
            Part::Word(_) | Part::Limit(_) | Part::Text(_) | Part::Condition(_) => None,
        });
    let clause_words: Vec<&Name> = clause_words.filter(|_| line.is_some()).collect();
    for word in &clause_words {
        found.add(&ClauseWord { word: word.text.clone(), span: word.span });
    }
    match line {
        Some(_) if !clause_words.is_empty() => {}
        Some((word, form)) => found.add(&SaysTooLittle {
            what: format!("this line “{word}”"),
            lacks: "not all that it must",
            span: kind.span,
            consequence: "it cannot be read as it stands",
            mend: form,
        }),
        None => {
            let known = world.elements.keys().map(String::as_str);
            found.add(&UnknownName {
                wanted: "element of the vocabulary",
                name: kind.text.clone(),
                span: kind.span,
                near: nearest(&kind.text, known.chain(LINES.iter().map(|(word, _)| *word))),
                else_is: None,
            });
        }
    }
}

/// Adds a variable for each special tool that fits a thing of the model, in the order of their names; for one that fits
/// something of an assembly that is placed at points, at each of them.
pub(super) fn special_tools(world: &World, model: &mut Model) {
    let Some(kind) = world.elements.get(SPECIAL_TOOL) else { return };
    for tool in world.tools.values().filter(|tool| tool.special) {
        let name = &tool.words.name;
        let fits = tool.fits.as_ref().filter(|fits| model.any_of(fits).is_some());
        let Some(fits) = fits.filter(|_| !model.variable_named.contains_key(name)) else {
            continue;
        };
        let at_points = |of: &str, points: &[String]| -> Vec<String> {
            points.iter().map(|point| at_point(of, point)).collect()
        };
        let fitted = match (model.points.get(name), model.points.get(fits)) {
            (Some(points), _) => {
                let words = |point| {
                    Words::titled(&at_point(name, point), &at_point(&tool.words.said, point))
                };
                points.iter().map(|point| (words(point), vec![at_point(fits, point)])).collect()
            }
            (None, Some(points)) => vec![(tool.words.clone(), at_points(fits, points))],
            (None, None) => vec![(tool.words.clone(), vec![fits.clone()])],
        };
        for (words, fits) in fitted {
            if !special_tool(words, &fits, tool, kind, model) {
                return;
            }
        }
    }
}

/// False where the model is full.
fn special_tool(
    words: Words,
    fits: &[String],
    tool: &Tool,
    kind: &ElementKind,
    model: &mut Model,
) -> bool {
    let variable = variable(words.clone(), kind, VariableKind::Tool, tool.span);
    let Some(id) = add(variable, model) else { return false };
    let mut thing = thing(words.clone(), kind, id, tool.span);
    let span = tool.fits_at.unwrap_or(tool.span);
    for fits in fits {
        thing.relate("fits", fits, span);
    }
    model.things.insert(words.name, thing);
    true
}

fn variable(words: Words, kind: &ElementKind, sort: VariableKind, span: Span) -> Variable {
    let values = kind.states.iter().take(usize::from(u8::MAX));
    let values = values.map(|state| Value { words: Words::of(state), span: kind.span });
    Variable { words, values: values.collect(), normal: 0, kind: sort, span }
}

fn thing(words: Words, kind: &ElementKind, variable: VariableId, span: Span) -> ModelThing {
    ModelThing {
        words,
        element: kind.name.clone(),
        variable,
        relations: std::collections::BTreeMap::new(),
        relation_spans: std::collections::BTreeMap::new(),
        bars: Vec::new(),
        marks: std::collections::BTreeSet::new(),
        mark_spans: std::collections::BTreeMap::new(),
        own_conditions: std::collections::BTreeMap::new(),
        sealed: None,
        held: None,
        inspected: None,
        count: None,
        thread: None,
        strength: None,
        friction: None,
        pattern: None,
        tightening: Vec::new(),
        fastening: crate::world::Fastening::default(),
        reckoned: std::sync::OnceLock::new(),
        content: None,
        attributes: Vec::new(),
        span,
    }
}

impl ModelThing {
    /// Notes a relation to another thing or state, with the place that says so.
    pub(super) fn relate(&mut self, relation: &str, to: &str, span: Span) {
        let others = self.relations.entry(relation.to_owned()).or_default();
        if !others.iter().any(|other| other == to) {
            others.push(to.to_owned());
        }
        self.relation_spans.entry((relation.to_owned(), to.to_owned())).or_insert(span);
    }
}
