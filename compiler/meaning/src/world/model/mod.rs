//! Models: what is worked on.
//!
//! A model is read in the order in which its lines can be understood, which is not the order in which
//! they are written: first every state and thing, then what is said of them, then the rules.

mod assembled;
mod bolted;
pub(in crate::world) mod carried;
mod hazard;
mod likened;
mod member;
mod near_size;
pub(crate) mod points;
mod reading;
mod relation;
mod rule;
mod said;
mod seated;
mod state;

use super::limits::{Home, limits};
use super::names::Names;
use super::read::{NoReadings, Reader};
use super::{Model, NamedLimit, World};
use crate::findings::names::UnknownName;
use locknut_finding::{Findings, Span};
use locknut_graph::{Condition, Prose};
use locknut_syntax::tree::{self, ModelItem};
use std::collections::{BTreeMap, BTreeSet};

/// All models.
pub(super) fn models(
    declared: &[&tree::Model],
    world: &World,
    found: &mut Findings,
) -> BTreeMap<String, Model> {
    let mut models = BTreeMap::new();
    for tree in declared {
        let whole = assembled::whole(tree, declared, world, found);
        let mut model = model(&whole, world, found);
        model.made_of = whole.made_of;
        model.placed = whole.placed;
        models.insert(tree.name.text.clone(), model);
    }
    tools_fit_something(&models, world, found);
    models
}

fn model(whole: &assembled::Whole, world: &World, found: &mut Findings) -> Model {
    let tree = &whole.tree;
    let mut model = Model {
        name: tree.name.text.clone(),
        title: Prose::plain(tree.name.text.replace('-', " ")),
        series: Vec::new(),
        has_serial: false,
        variables: Vec::new(),
        variable_named: BTreeMap::new(),
        points: whole.points.clone(),
        things: BTreeMap::new(),
        limits: BTreeMap::new(),
        broken: BTreeSet::new(),
        incomplete: whole.tree.broken,
        made_of: BTreeSet::new(),
        placed: points::Points::new(),
        readings: BTreeMap::new(),
        changes: Vec::new(),
        interlocks: Vec::new(),
        act_interlocks: Vec::new(),
        hazards: Vec::new(),
        hazard_things: Vec::new(),
        safe_to_leave: (Condition::Always(true), tree.name.span),
        leave_said: false,
        span: tree.name.span,
    };
    // One name, one meaning: conditions and texts may speak of a state, a thing or a figure alike.
    let mut names = Names::default();
    state::check_size(tree, found);
    state::states(tree, &mut model, &mut names, found);
    let members = member::members(tree, world, &mut model, &mut names, found);
    member::special_tools(world, &mut model);
    figures(tree, world, &mut model, &mut names, found);
    heading(tree, world, &mut model, found);
    said::say(&members, world, &mut model, found);
    relation::complete(world, &mut model, found);
    bolted::check(Reader { world, model: Some(&model), readings: &NoReadings }, &model, found);
    rule::rules(tree, world, &mut model, found);
    rule::leaving(whole.leave, &mut model);
    reading::readings(tree, world, &mut model, &mut names, found);
    hazard::hazards(tree, world, &mut model, found);
    model
}

fn heading(tree: &tree::Model, world: &World, model: &mut Model, found: &mut Findings) {
    let mut said = Names::default();
    let mut once = |what: &str, span: Span, found: &mut Findings| {
        said.once(format!("the {what} of this model"), span, found);
    };
    for item in &tree.items {
        match item {
            ModelItem::Title { text, span } => {
                once("title", *span, found);
                let reader = Reader { world, model: Some(model), readings: &NoReadings };
                model.title = reader.prose(text, found);
            }
            ModelItem::Series { values, span } => {
                once("series", *span, found);
                let mut names = Names::default();
                for value in values {
                    if names.once(format!("the series {}", value.text), value.span, found) {
                        model.series.push(value.text.clone());
                    }
                }
            }
            ModelItem::Serial { span } => {
                once("serial number", *span, found);
                model.has_serial = true;
            }
            ModelItem::SafeToLeave { span, .. } => once("line “safe to leave”", *span, found),
            ModelItem::Limit { .. }
            | ModelItem::MadeOf { .. }
            | ModelItem::Reading { .. }
            | ModelItem::State { .. }
            | ModelItem::Change { .. }
            | ModelItem::Element { .. }
            | ModelItem::NeverState { .. }
            | ModelItem::NeverAct { .. }
            | ModelItem::Hazard { .. } => {}
        }
    }
}

/// `value` and `limit` of the model.
fn figures(
    tree: &tree::Model,
    world: &World,
    model: &mut Model,
    names: &mut Names,
    found: &mut Findings,
) {
    let mut lines = Vec::new();
    for item in &tree.items {
        if let ModelItem::Limit { keyword, name, limit, span } = item
            && names.fresh("model", &keyword.text, name, found)
        {
            lines.push(super::declared::LimitLine { keyword, name, limit, span: *span });
        }
    }
    limits(&lines, &mut OfModel { world, model }, found);
}

/// The figures of a model see those of the library.
struct OfModel<'a> {
    world: &'a World,
    model: &'a mut Model,
}

impl Home for OfModel<'_> {
    fn reader(&self) -> Reader<'_> {
        Reader { world: self.world, model: Some(self.model), readings: &NoReadings }
    }

    fn keep(&mut self, name: &str, limit: Option<NamedLimit>) {
        match limit {
            Some(limit) => drop(self.model.limits.insert(name.to_owned(), limit)),
            None => drop(self.model.broken.insert(name.to_owned())),
        }
    }
}

/// A special tool fits a thing of some model, once there is a model at all.
fn tools_fit_something(models: &BTreeMap<String, Model>, world: &World, found: &mut Findings) {
    if models.is_empty() {
        return;
    }
    for tool in world.tools.values() {
        let (Some(fits), Some(span)) = (&tool.fits, tool.fits_at) else { continue };
        if models.values().any(|model| model.any_of(fits).is_some()) {
            continue;
        }
        let known = models.values().flat_map(|model| model.things.keys()).map(String::as_str);
        found.add(&UnknownName {
            wanted: "thing of any model",
            name: fits.clone(),
            span,
            near: super::near::nearest(fits, known),
            else_is: None,
        });
    }
}
