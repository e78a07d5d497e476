//! Things and states that stand at several points: one of each for every point, so that acts and rules can
//! tell them apart.
//!
//! What is said of such a thing, and each rule that speaks of it, is read once at each point: there a name
//! means the one at that point, where it has one there, and all of them where it has not.

use super::super::names::Names;
use crate::findings::names::{DoubledName, PointsTwice};
use crate::world::{ElementKind, World};
use locknut_finding::{Findings, Span};
use locknut_syntax::tree::{
    Act, Attribute, Clause, ClauseValue, Condition, ModelItem, Name, Object, Part,
};
use std::collections::{BTreeMap, BTreeSet};

/// The points of things and states, by their name.
pub(super) type Points = BTreeMap<String, Vec<String>>;

/// Attributes of one word that are no points: they may follow `at north, south`.
const PATTERNS: &[&str] = &["crosswise", "spiral"];

/// A line of a model, with the points that the assembly around it is placed at.
pub(super) struct Placed {
    pub(super) item: ModelItem,
    pub(super) at: Vec<Name>,
}

/// The one of a thing or state that stands at a point.
pub(crate) fn at_point(name: &str, point: &str) -> String {
    format!("{name} at {point}")
}

/// Takes the lines apart, one for each point.
pub(super) fn apart(
    placed: Vec<Placed>,
    world: &World,
    found: &mut Findings,
) -> (Vec<ModelItem>, Points) {
    let mut apart = Apart { world, points: Points::new() };
    let mut items: Vec<(ModelItem, Option<Vec<String>>)> = Vec::new();
    let mut declared: BTreeMap<String, (Span, bool)> = BTreeMap::new();
    let mut by_assembly: BTreeSet<String> = BTreeSet::new();
    for Placed { mut item, at } in placed {
        let in_placed = !at.is_empty();
        let points = apart.points_of(&mut item, at, found);
        if let ModelItem::State { name, .. } | ModelItem::Element { name, .. } = &item {
            let has_points = points.is_some();
            match declared.get(&name.text) {
                // Two plain ones are told where names are taken.
                Some((first, had)) if *had || has_points => {
                    let (first, again) = (*first, name.span);
                    let what = "thing of this model".to_owned();
                    found.add(&DoubledName { what, name: name.text.clone(), first, again });
                    continue;
                }
                Some(_) => {}
                None => drop(declared.insert(name.text.clone(), (name.span, has_points))),
            }
            if let Some(points) = &points {
                apart.points.insert(name.text.clone(), points.clone());
                by_assembly.extend(in_placed.then(|| name.text.clone()));
            }
        }
        items.push((item, points));
    }
    // What fits a thing of an assembly fits it wherever the assembly stands, and is in it at one of these.
    for tool in world.tools.values().filter(|tool| tool.special) {
        let fits = tool.fits.as_ref().filter(|fits| by_assembly.contains(*fits));
        let points = fits.and_then(|fits| apart.points.get(fits)).cloned();
        if let Some(points) = points.filter(|_| !declared.contains_key(&tool.words.name)) {
            apart.points.insert(tool.words.name.clone(), points);
        }
    }
    let items = items.into_iter().flat_map(|(item, points)| apart.item(item, points)).collect();
    (items, apart.points)
}

struct Apart<'w> {
    world: &'w World,
    points: Points,
}

impl Apart<'_> {
    /// The points of a thing or state: its own, which leave its attributes, or those of its assembly.
    fn points_of(
        &self,
        item: &mut ModelItem,
        at: Vec<Name>,
        found: &mut Findings,
    ) -> Option<Vec<String>> {
        let (name, own) = match item {
            ModelItem::Element { kind, name, attributes, .. } => {
                (name, own_points(self.world.elements.get(&kind.text), attributes))
            }
            ModelItem::State { name, .. } => (name, Vec::new()),
            ModelItem::Title { .. }
            | ModelItem::MadeOf { .. }
            | ModelItem::Reading { .. }
            | ModelItem::Series { .. }
            | ModelItem::Serial { .. }
            | ModelItem::Limit { .. }
            | ModelItem::Change { .. }
            | ModelItem::NeverState { .. }
            | ModelItem::NeverAct { .. }
            | ModelItem::Hazard { .. }
            | ModelItem::SafeToLeave { .. } => return None,
        };
        if let (Some(inner), Some(outer)) = (own.first(), at.first()) {
            let (name, inner, outer) = (name.text.clone(), inner.span, outer.span);
            found.add(&PointsTwice { name, inner, outer });
        }
        let points = if own.is_empty() { at } else { own };
        let mut taken = Names::default();
        let points: Vec<String> = points
            .into_iter()
            .filter(|point| taken.once(format!("the point {}", point.text), point.span, found))
            .map(|point| point.text)
            .collect();
        Some(points).filter(|points| !points.is_empty())
    }

    /// One line for each point; a line that speaks of no point stays as it is.
    fn item(&self, item: ModelItem, points: Option<Vec<String>>) -> Vec<ModelItem> {
        let spoken = |all: Vec<String>| all.into_iter().map(Some).collect::<Vec<_>>();
        let each = match (&item, points) {
            (_, Some(points)) => spoken(points),
            (ModelItem::Change { state, .. }, None) => {
                spoken(self.points.get(&state.text).cloned().unwrap_or_default())
            }
            (ModelItem::NeverState { condition, clauses, .. }, None) => {
                spoken(self.spoken_of(&[], [condition], clauses))
            }
            (ModelItem::NeverAct { act, .. }, None) => {
                spoken(self.spoken_of(&act.objects, [], &act.clauses))
            }
            (ModelItem::Element { .. }, None) => vec![None],
            (ModelItem::Hazard { condition, .. }, None) => {
                let points = self.spoken_of(&[], condition, &[]);
                return self.hazards(item, &points);
            }
            (ModelItem::Reading { clauses, .. }, None) => {
                // Taken at no point in particular, it asks of all of them what it asks of each.
                let points = self.spoken_of(&[], [], clauses);
                std::iter::once(None).chain(spoken(points)).collect()
            }
            (
                ModelItem::Title { .. }
                | ModelItem::MadeOf { .. }
                | ModelItem::Series { .. }
                | ModelItem::Serial { .. }
                | ModelItem::Limit { .. }
                | ModelItem::State { .. }
                | ModelItem::SafeToLeave { .. },
                None,
            ) => return vec![item],
        };
        if each.is_empty() {
            return vec![item];
        }
        each.iter().map(|point| self.line_at(&item, point.as_deref())).collect()
    }

    fn line_at(&self, item: &ModelItem, point: Option<&str>) -> ModelItem {
        let mut line = item.clone();
        match &mut line {
            ModelItem::State { name, .. } => name_at(name, point),
            ModelItem::Element { kind, name, attributes, .. } => {
                name_at(name, point);
                let kind = self.world.elements.get(&kind.text);
                for attribute in attributes {
                    self.attribute(attribute, kind, point);
                }
            }
            ModelItem::Change { state, needs, .. } => {
                name_at(state, point);
                self.clauses(needs, point);
            }
            ModelItem::NeverState { condition, clauses, .. } => {
                self.condition(condition, point);
                self.clauses(clauses, point);
            }
            ModelItem::NeverAct { act, .. } => self.act(act, point),
            ModelItem::Reading { name, clauses, .. } => {
                name_at(name, point);
                self.clauses(clauses, point);
            }
            ModelItem::Title { .. }
            | ModelItem::MadeOf { .. }
            | ModelItem::Series { .. }
            | ModelItem::Serial { .. }
            | ModelItem::Limit { .. }
            | ModelItem::Hazard { .. }
            | ModelItem::SafeToLeave { .. } => {}
        }
        line
    }

    /// At a thing that stands at the point, it hurts while it is so there; at another thing, and where no thing is
    /// named, as soon as it is so at one point.
    fn hazards(&self, item: ModelItem, points: &[String]) -> Vec<ModelItem> {
        let ModelItem::Hazard { signal, text, at, condition: Some(condition), span } = item else {
            return vec![item];
        };
        if points.is_empty() {
            return vec![ModelItem::Hazard { signal, text, at, condition: Some(condition), span }];
        }
        let there = |point: &String| {
            let mut there = condition.clone();
            self.condition(&mut there, Some(point));
            there
        };
        let (local, other): (Vec<Name>, Vec<Name>) = at.iter().cloned().partition(|name| {
            self.points
                .get(&name.text)
                .is_some_and(|own| points.iter().all(|point| own.contains(point)))
        });
        let mut all = Vec::new();
        if !local.is_empty() {
            for point in points {
                let mut at = local.clone();
                for name in &mut at {
                    name_at(name, Some(point));
                }
                let (signal, text, condition) = (signal.clone(), text.clone(), Some(there(point)));
                all.push(ModelItem::Hazard { signal, text, at, condition, span });
            }
        }
        if local.is_empty() || !other.is_empty() {
            let any: Vec<Condition> = points.iter().map(there).collect();
            let condition = Some(Condition::Or(any, condition.span()));
            all.push(ModelItem::Hazard { signal, text, at: other, condition, span });
        }
        all
    }

    /// Every point of what a rule speaks of without saying a point, in declared order.
    fn spoken_of<'t>(
        &self,
        objects: &[Object],
        conditions: impl IntoIterator<Item = &'t Condition>,
        clauses: &'t [Clause],
    ) -> Vec<String> {
        let mut names: Vec<&str> = Vec::new();
        let says_its_points = clauses.iter().any(|clause| clause.word.text == "at");
        for object in objects.iter().filter(|_| !says_its_points) {
            if let Object::Name(name) = object {
                names.push(&name.text);
            }
        }
        let in_clauses = clauses.iter().filter_map(|clause| match &clause.value {
            ClauseValue::Condition(condition) => Some(&**condition),
            ClauseValue::Names(_)
            | ClauseValue::Text(_)
            | ClauseValue::Limit(_)
            | ClauseValue::Definition { .. }
            | ClauseValue::Target { .. }
            | ClauseValue::Set(_)
            | ClauseValue::Despite { .. }
            | ClauseValue::Outcome(_) => None,
        });
        let mut left: Vec<&Condition> = conditions.into_iter().chain(in_clauses).collect();
        while let Some(condition) = left.pop() {
            match condition {
                Condition::Is { subject, point: None, .. } => names.push(&subject.text),
                Condition::Not(inner, _) => left.push(inner),
                Condition::And(parts, _) | Condition::Or(parts, _) => left.extend(parts),
                Condition::Is { .. }
                | Condition::Series { .. }
                | Condition::Serial { .. }
                | Condition::Within { .. }
                | Condition::Each { .. }
                | Condition::Mark { .. } => {}
            }
        }
        let mut seen = BTreeSet::new();
        let points = names.into_iter().filter_map(|name| self.points.get(name)).flatten();
        points.filter(|point| seen.insert(*point)).cloned().collect()
    }

    fn has(&self, name: &str, point: &str) -> bool {
        self.points.get(name).is_some_and(|points| points.iter().any(|own| own == point))
    }

    fn condition(&self, condition: &mut Condition, at: Option<&str>) {
        let Some(here) = at else { return };
        match condition {
            Condition::Is { subject, point: point @ None, .. } if self.has(&subject.text, here) => {
                *point = Some(Name { text: here.to_owned(), span: subject.span });
            }
            Condition::Not(inner, _) => self.condition(inner, at),
            Condition::And(parts, _) | Condition::Or(parts, _) => {
                for part in parts {
                    self.condition(part, at);
                }
            }
            Condition::Is { .. }
            | Condition::Series { .. }
            | Condition::Serial { .. }
            | Condition::Within { .. }
            | Condition::Each { .. }
            | Condition::Mark { .. } => {}
        }
    }

    fn clauses(&self, clauses: &mut [Clause], point: Option<&str>) {
        for clause in clauses {
            if let ClauseValue::Condition(condition) = &mut clause.value {
                self.condition(condition, point);
            }
        }
    }

    /// `never remove pads`, at one of their points; a rule that says its points keeps to them.
    fn act(&self, act: &mut Act, point: Option<&str>) {
        self.clauses(&mut act.clauses, point);
        if act.clauses.iter().any(|clause| clause.word.text == "at") {
            return;
        }
        for object in &mut act.objects {
            if let (Object::Name(name), Some(here)) = (object, point)
                && self.has(&name.text, here)
            {
                name_at(name, point);
            }
        }
    }

    /// `fastens pads`: of those at the same point, or of all where there are none at it.
    fn attribute(
        &self,
        attribute: &mut Attribute,
        kind: Option<&ElementKind>,
        point: Option<&str>,
    ) {
        for part in &mut attribute.parts {
            if let Part::Condition(condition) = part {
                self.condition(condition, point);
            }
        }
        let Some(Part::Word(first)) = attribute.parts.first() else { return };
        if !kind.is_some_and(|kind| kind.relations.contains_key(&first.text)) {
            return;
        }
        let (first, span) = (first.clone(), attribute.span);
        let is_and = |part: &Part| matches!(part, Part::Word(word) if word.text == "and");
        let mut parts = vec![Part::Word(first)];
        let rest: Vec<Part> = attribute.parts.iter().skip(1).cloned().collect();
        for (position, others) in rest.split(is_and).enumerate() {
            for (further, other) in self.others(others, point).into_iter().enumerate() {
                if position > 0 || further > 0 {
                    parts.push(Part::Word(Name { text: "and".to_owned(), span }));
                }
                parts.extend(other);
            }
        }
        attribute.parts = parts;
    }

    /// `pads`, `supply at isolated`: one for each that it means.
    fn others(&self, written: &[Part], point: Option<&str>) -> Vec<Vec<Part>> {
        let Some((Part::Word(name), rest)) = written.split_first() else {
            return vec![written.to_vec()];
        };
        let Some(points) = self.points.get(&name.text) else { return vec![written.to_vec()] };
        let here = points.iter().filter(|own| Some(own.as_str()) == point);
        let here: Vec<&String> = here.collect();
        let meant = if here.is_empty() { points.iter().collect() } else { here };
        let one = |point: &String| {
            let mut name = name.clone();
            name_at(&mut name, Some(point));
            let mut parts = vec![Part::Word(name)];
            parts.extend(rest.iter().cloned());
            parts
        };
        meant.into_iter().map(one).collect()
    }
}

/// Says the point wherever a condition says none: for an assembly, all of whose states and things stand there.
pub(super) fn say_at(condition: &mut Condition, here: &Name) {
    match condition {
        Condition::Is { point: point @ None, .. } => *point = Some(here.clone()),
        Condition::Not(inner, _) => say_at(inner, here),
        Condition::And(parts, _) | Condition::Or(parts, _) => {
            for part in parts {
                say_at(part, here);
            }
        }
        Condition::Is { .. }
        | Condition::Series { .. }
        | Condition::Serial { .. }
        | Condition::Within { .. }
        | Condition::Each { .. }
        | Condition::Mark { .. } => {}
    }
}

fn name_at(name: &mut Name, point: Option<&str>) {
    if let Some(point) = point {
        name.text = at_point(&name.text, point);
    }
}

/// Takes `at north, south` out of the attributes of a thing.
fn own_points(kind: Option<&ElementKind>, attributes: &mut Vec<Attribute>) -> Vec<Name> {
    let says_at = |attribute: &Attribute| match attribute.parts.as_slice() {
        [Part::Word(at), _] => at.text == "at",
        _ => false,
    };
    let Some(begins) = attributes.iter().position(says_at) else { return Vec::new() };
    let known = |word: &str| {
        PATTERNS.contains(&word)
            || kind.is_some_and(|kind| {
                kind.marks.contains(word)
                    || kind.attributes.contains(word)
                    || kind.relations.contains_key(word)
            })
    };
    let mut points = Vec::new();
    let mut ends = begins;
    for attribute in attributes.iter().skip(begins) {
        let part = match attribute.parts.as_slice() {
            [Part::Word(_), part] if ends == begins => part,
            [part] if ends > begins => part,
            _ => break,
        };
        match part {
            Part::Word(word) if !known(&word.text) => points.push(word.clone()),
            Part::Text(text) => points.push(Name { text: text.plain(), span: text.span }),
            Part::Word(_) | Part::Limit(_) | Part::Condition(_) => break,
        }
        ends += 1;
    }
    attributes.drain(begins..ends);
    points
}
