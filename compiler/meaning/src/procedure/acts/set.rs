//! `set STATE to VALUE`.

use super::super::laying::Laying;
use super::draft::Draft;
use super::shape::{Bodies, names, one_name};
use super::{Lay, Verb};
use crate::findings::flow::ChangedByActs;
use crate::findings::names::SaysTooLittle;
use locknut_graph::{ActKind, Effect, LineValue, VariableId, VariableKind};
use locknut_syntax::tree::{Act, Name};

const FORM: &str = "set STATE to VALUE";

pub(super) const VERB: Verb = Verb {
    word: "set",
    form: FORM,
    clauses: &["to", "at", "using"],
    bodies: Bodies::None,
    lay: Lay::Line(set),
};

fn set<'w>(laying: &mut Laying<'w>, act: &'w Act) -> Option<Draft<'w>> {
    let state = one_name(laying, act, FORM)?;
    let written = names(act, "to");
    let Some(value) = written.first() else {
        // What follows the name was told already: it may be the value.
        if act.objects.len() == 1 {
            laying.found.add(&to_what(act));
        }
        return None;
    };
    let points = names(act, "at");
    let here = laying.read(|reader, found| reader.at_points(state, &points, found))?;
    let mut set = Vec::new();
    for state in &here {
        set.push(written_value(laying, state, value)?);
    }
    let (variable, value) = *set.first()?;
    let using = super::instruments::using(laying, act);
    let declared = laying.model.variables.get(usize::from(variable.0))?;
    let said = declared.values.get(usize::from(value)).map(|value| value.words.clone())?;
    let mut draft = Draft::of(ActKind::Do, "act-set", act.span);
    let words = super::element::words_at(laying, state, &here);
    draft.say("state", LineValue::Words(words));
    draft.say("value", LineValue::Words(said));
    let set = set.into_iter().map(|(variable, value)| Effect::Set { variable, value });
    draft.effects = set.collect();
    draft.things = here.iter().map(|state| state.text.clone()).collect();
    super::instruments::attach(laying, &using, &mut draft);
    Some(draft)
}

fn written_value(laying: &mut Laying<'_>, state: &Name, value: &Name) -> Option<(VariableId, u8)> {
    let model = laying.model;
    let id = model.variable_named.get(&state.text).copied();
    let declared = id.and_then(|id| model.variables.get(usize::from(id.0)));
    let (Some(id), Some(declared)) = (id, declared) else {
        let states = model.variable_named.iter().filter(|(_, id)| {
            let variable = model.variables.get(usize::from(id.0));
            variable.is_some_and(|variable| variable.kind == VariableKind::State)
        });
        let states: Vec<&str> = states.map(|(name, _)| name.as_str()).collect();
        laying.read(|reader, found| reader.unknown("state of this model", state, states, found));
        return None;
    };
    if declared.kind != VariableKind::State {
        let acts = super::element::acts_of(laying, &state.text);
        let (name, span) = (state.text.clone(), state.span);
        laying.found.add(&ChangedByActs { name, span, acts, declared: declared.span });
        return None;
    }
    let position = laying.read(|reader, found| reader.value_position(declared, value, found))?;
    Some((id, position))
}

fn to_what(act: &Act) -> SaysTooLittle<'static> {
    SaysTooLittle {
        what: "this `set`".to_owned(),
        lacks: "not to which value",
        span: act.span,
        consequence: "the technician cannot tell which way to switch",
        mend: "write: set STATE to VALUE",
    }
}
