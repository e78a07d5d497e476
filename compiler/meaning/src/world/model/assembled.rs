//! A model together with the assemblies that it is made of.

use super::super::names::Names;
use super::points::{self, Placed, Points};
use crate::findings::names::{Circle, PointsTwice, UnknownName};
use crate::world::World;
use crate::world::near::nearest;
use locknut_finding::{Findings, Span};
use locknut_syntax::tree::{self, Condition, ModelItem, Name};
use std::collections::BTreeSet;

/// A model as if all of it stood in one place.
pub(super) struct Whole {
    pub(super) tree: tree::Model,
    /// Where its things and states stand, of those that stand at several points.
    pub(super) points: Points,
    /// Its assemblies, at any depth.
    pub(super) made_of: BTreeSet<String>,
    /// Where those stand that are placed at points, or in one that is.
    pub(super) placed: Points,
    pub(super) leave: Leave,
}

/// Who says when it is safe to leave.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Leave {
    /// It, or all of its parts that have states.
    Said,
    /// Some part of it has states, and nobody says anything of them.
    Taken,
    /// An assembly that says nothing: the models that are made of it do.
    ByItsModels,
}

/// Puts the lines of its assemblies ahead of a model's own; their titles and series stay theirs. It is safe
/// to leave where all of them say so; whoever says it speaks for the silent assemblies inside, too.
pub(super) fn whole(
    model: &tree::Model,
    declared: &[&tree::Model],
    world: &World,
    found: &mut Findings,
) -> Whole {
    let mut gathering = Gathering {
        declared,
        found,
        made_of: BTreeSet::new(),
        placed: Points::new(),
        inside: vec![(model.name.text.clone(), model.name.span)],
        broken: false,
        items: Vec::new(),
        at: Vec::new(),
        safe: Vec::new(),
        spoken_for: serves(model, declared),
        leave: Leave::Said,
    };
    let served = gathering.spoken_for;
    gathering.gather(model);
    let Gathering { made_of, placed, broken, mut items, mut safe, mut leave, .. } = gathering;
    let said = !safe.is_empty() || items.iter().any(|placed| says(&placed.item));
    if !said {
        leave = if served { Leave::ByItsModels } else { Leave::Taken };
    }
    if let Some((condition, span)) = safe.pop() {
        let condition = if safe.is_empty() {
            condition
        } else {
            let mut parts: Vec<Condition> = safe.into_iter().map(|(part, _)| part).collect();
            parts.push(condition);
            Condition::And(parts, span)
        };
        items.push(Placed { item: ModelItem::SafeToLeave { condition, span }, at: Vec::new() });
    }
    let (items, points) = points::apart(items, world, found);
    let broken = model.broken || broken;
    Whole { tree: tree::Model { items, broken, ..model.clone() }, points, made_of, placed, leave }
}

/// Whether it is an assembly that something is made of.
fn serves(model: &tree::Model, declared: &[&tree::Model]) -> bool {
    let is_in = |item: &ModelItem| {
        matches!(item, ModelItem::MadeOf { assemblies, .. }
            if assemblies.iter().any(|name| name.text == model.name.text))
    };
    model.keyword.text == "assembly" && declared.iter().any(|one| one.items.iter().any(is_in))
}

/// What an assembly says of one of it, said of each: it knows nothing of the others.
fn at_each_point(condition: &Condition, at: &[Name]) -> Condition {
    let said_at = |point: &Name| {
        let mut there = condition.clone();
        points::say_at(&mut there, point);
        there
    };
    if at.is_empty() {
        return condition.clone();
    }
    Condition::And(at.iter().map(said_at).collect(), condition.span())
}

fn says(item: &ModelItem) -> bool {
    matches!(item, ModelItem::SafeToLeave { .. })
}

/// `S is v`, of a declared state with its first value.
fn is_normal(item: &ModelItem) -> Option<Condition> {
    let ModelItem::State { name, values, .. } = item else { return None };
    let values = vec![values.first()?.clone()];
    Some(Condition::Is {
        subject: name.clone(),
        negated: false,
        proved: false,
        point: None,
        values,
        lasting: None,
        span: name.span,
    })
}

struct Gathering<'a> {
    declared: &'a [&'a tree::Model],
    found: &'a mut Findings,
    made_of: BTreeSet<String>,
    placed: Points,
    /// The model and the assemblies that are being gathered, outermost first.
    inside: Vec<(String, Span)>,
    /// One of the assemblies could not be read as a whole.
    broken: bool,
    items: Vec<Placed>,
    /// The points that the assembly being gathered is placed at.
    at: Vec<Name>,
    safe: Vec<(Condition, Span)>,
    /// Whoever is made of what is being gathered says when it may be left.
    spoken_for: bool,
    leave: Leave,
}

impl Gathering<'_> {
    fn gather(&mut self, model: &tree::Model) {
        let outer = self.spoken_for;
        self.spoken_for |= model.items.iter().any(says);
        let mut named = Names::default();
        for item in &model.items {
            if let ModelItem::MadeOf { assemblies, at, .. } = item {
                for name in assemblies {
                    let what = format!("the assembly {}", name.text);
                    if named.once(what, name.span, self.found) {
                        self.assembly(name, at);
                    }
                }
            }
        }
        let outermost = self.inside.len() == 1;
        if !self.made_of.is_empty() && !self.spoken_for {
            // Left out, it is safe where every declared state of this part is normal.
            let normal: Vec<Condition> = model.items.iter().filter_map(is_normal).collect();
            if !normal.is_empty() {
                self.leave = Leave::Taken;
                self.safe.push((Condition::And(normal, model.name.span), model.name.span));
            }
        }
        for item in &model.items {
            match item {
                ModelItem::MadeOf { .. } => {}
                ModelItem::SafeToLeave { condition, span } if self.made_of.is_empty() => {
                    // Said twice in one place is told where the model is read.
                    let (condition, span) = (condition.clone(), *span);
                    self.keep(ModelItem::SafeToLeave { condition, span });
                }
                ModelItem::SafeToLeave { condition, span } => {
                    self.safe.push((at_each_point(condition, &self.at), *span));
                }
                ModelItem::Title { .. } | ModelItem::Series { .. } | ModelItem::Serial { .. } => {
                    if outermost {
                        self.keep(item.clone());
                    }
                }
                ModelItem::Reading { .. }
                | ModelItem::Limit { .. }
                | ModelItem::State { .. }
                | ModelItem::Change { .. }
                | ModelItem::Element { .. }
                | ModelItem::NeverState { .. }
                | ModelItem::NeverAct { .. }
                | ModelItem::Hazard { .. } => self.keep(item.clone()),
            }
        }
        self.spoken_for = outer;
    }

    fn keep(&mut self, item: ModelItem) {
        self.items.push(Placed { item, at: self.at.clone() });
    }

    fn assembly(&mut self, name: &Name, at: &[Name]) {
        if let Some(begins) = self.inside.iter().position(|(one, _)| *one == name.text) {
            let round: Vec<(String, Span)> = self.inside.iter().skip(begins).cloned().collect();
            // Each of the circle meets it; it is told once, from the first by name.
            if round.iter().map(|(name, _)| name).min() == round.first().map(|(name, _)| name) {
                let consequence = "nobody can say what the machine consists of";
                self.found.add(&Circle { link: "is made of".to_owned(), round, consequence });
            }
            return;
        }
        let assemblies = || self.declared.iter().filter(|one| one.keyword.text == "assembly");
        let Some(assembly) = assemblies().find(|one| one.name.text == name.text).copied() else {
            let near = nearest(&name.text, assemblies().map(|one| one.name.text.as_str()));
            let (wanted, span) = ("assembly", name.span);
            let name = name.text.clone();
            self.found.add(&UnknownName { wanted, name, span, near, else_is: None });
            return;
        };
        if !self.made_of.insert(name.text.clone()) {
            // Reached by two ways, it is still one thing.
            return;
        }
        if let (Some(inner), Some(outer)) = (at.first(), self.at.first()) {
            let (name, inner, outer) = (name.text.clone(), inner.span, outer.span);
            self.found.add(&PointsTwice { name, inner, outer });
        }
        let around = self.at.clone();
        if self.at.is_empty() {
            self.at = at.to_vec();
        }
        if !self.at.is_empty() {
            let points = self.at.iter().map(|point| point.text.clone()).collect();
            self.placed.insert(name.text.clone(), points);
        }
        self.inside.push((name.text.clone(), name.span));
        self.broken |= assembly.broken;
        self.gather(assembly);
        self.inside.pop();
        self.at = around;
    }
}
