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
pub(super) fn states(tree: &tree::Model, model: &mut Model, names: &mut Names, found: &mut Findings) {
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
        add(variable, model, found);
    }
}

/// Adds a variable under its name; none where the model has too many.
pub(super) fn add(variable: Variable, model: &mut Model, found: &mut Findings) -> Option<VariableId> {
    let position = model.variables.len();
    if position >= MOST {
        if position == MOST {
            let what = "states and things in one model";
            found.add(&TooMany { what, most: MOST, span: variable.span });
        }
        return None;
    }
    let id = VariableId(u16::try_from(position).ok()?);
    model.variable_named.insert(variable.words.name.clone(), id);
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
        if taken.fresh("value", "value of this state", name, found) {
            values.push(Value { words: Words::of(&name.text), span: name.span });
        }
    }
    values
}
