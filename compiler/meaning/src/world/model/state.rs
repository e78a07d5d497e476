//! `state supply : live, isolated`

use super::super::names::Names;
use crate::findings::names::{NoChoice, TooMany};
use crate::world::Model;
use locknut_finding::Findings;
use locknut_graph::{Value, Variable, VariableId, VariableKind, Words};
use locknut_syntax::tree::{self, ModelItem, Name};

/// A model has at most so many states and things, so that its variables keep small ids.
pub(super) const MOST: usize = 2_000;
/// A state has at most so many values.
const MOST_VALUES: usize = 100;

/// Adds every declared state as a variable, in written order.
pub(super) fn states(
    tree: &tree::Model,
    model: &mut Model,
    names: &mut Names,
    found: &mut Findings,
) {
    for item in &tree.items {
        let ModelItem::State { name, values, .. } = item else { continue };
        if !names.fresh("model", "state", name, found) {
            continue;
        }
        let values = values_of(name, values, found);
        let variable = Variable {
            words: Words::of(&name.text),
            values,
            normal: 0,
            kind: VariableKind::State,
            span: name.span,
        };
        add(variable, model);
    }
}

/// Says so where a model has more states and things than can be kept apart; once, at the first one.
pub(super) fn check_size(tree: &tree::Model, found: &mut Findings) {
    let mut all = tree.items.iter().filter_map(|item| match item {
        ModelItem::State { name, .. } | ModelItem::Element { name, .. } => Some(name.span),
        ModelItem::Title { .. }
        | ModelItem::Series { .. }
        | ModelItem::MadeOf { .. }
        | ModelItem::Reading { .. }
        | ModelItem::Serial { .. }
        | ModelItem::Limit { .. }
        | ModelItem::Change { .. }
        | ModelItem::NeverState { .. }
        | ModelItem::NeverAct { .. }
        | ModelItem::Hazard { .. }
        | ModelItem::SafeToLeave { .. } => None,
    });
    if let Some(span) = all.nth(MOST) {
        found.add(&TooMany { what: "states and things in one model", most: MOST, span });
    }
}

/// Adds a variable under its name; none where the model is full.
pub(super) fn add(variable: Variable, model: &mut Model) -> Option<VariableId> {
    let name = variable.words.name.clone();
    if model.variables.len() >= MOST {
        model.broken.insert(name);
        return None;
    }
    let id = VariableId(u16::try_from(model.variables.len()).ok()?);
    model.variable_named.insert(name, id);
    model.variables.push(variable);
    Some(id)
}

fn values_of(state: &Name, names: &[Name], found: &mut Findings) -> Vec<Value> {
    if let Some(name) = names.get(MOST_VALUES) {
        found.add(&TooMany { what: "values of one state", most: MOST_VALUES, span: name.span });
    }
    if let [only] = names {
        let (state, value) = (state.text.clone(), only.text.clone());
        found.add(&NoChoice { state, value, span: only.span });
    }
    let mut taken = Names::default();
    let mut values = Vec::new();
    for name in names.iter().take(MOST_VALUES) {
        if taken.once(format!("the value {}", name.text), name.span, found) {
            values.push(Value { words: Words::of(&name.text), span: name.span });
        }
    }
    values
}
