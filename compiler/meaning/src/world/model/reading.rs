//! `reading air-gap : length needs cover is removed, expect 0.2 .. 1.6 mm`

use super::super::names::Names;
use crate::findings::flow::PlainWanted;
use crate::findings::names::UnknownName;
use crate::world::near::nearest;
use crate::world::read::{NoReadings, Reader};
use crate::world::{Model, ModelReading, World};
use locknut_finding::Findings;
use locknut_graph::{Assertion, Because, Condition, Test, VariableId, VariableKind};
use locknut_syntax::tree::{self, Clause, ClauseValue, ModelItem, Name};

/// Reads the readings of a model whose states and things are known.
pub(super) fn readings(
    tree: &tree::Model,
    world: &World,
    model: &mut Model,
    names: &mut Names,
    found: &mut Findings,
) {
    let mut all = Vec::new();
    for item in &tree.items {
        let ModelItem::Reading { name, kind, clauses, .. } = item else { continue };
        if names.fresh("model", "reading", name, found) {
            let reader = Reader { world, model: Some(model), readings: &NoReadings };
            all.extend(reading(name, kind, clauses, reader, found).map(|read| (name, read)));
        }
    }
    for (name, reading) in all {
        model.readings.insert(name.text.clone(), reading);
    }
}

fn reading(
    name: &Name,
    kind: &Name,
    clauses: &[Clause],
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<ModelReading> {
    let Some(of_kind) = reader.units().kind_named(&kind.text) else {
        let kinds = reader.units().kinds().iter().map(|kind| kind.name.as_str());
        found.add(&UnknownName {
            wanted: "kind of quantity",
            name: kind.text.clone(),
            span: kind.span,
            near: nearest(&kind.text, kinds),
            else_is: None,
        });
        return None;
    };
    let span = name.span;
    let mut read =
        ModelReading { kind: of_kind, needs: Vec::new(), makes: Vec::new(), expect: None, span };
    for clause in clauses {
        match (clause.word.text.as_str(), &clause.value) {
            ("needs", ClauseValue::Condition(written)) => {
                let Some(condition) = reader.condition(written, found) else { continue };
                let (because, span) = (Because::Needs, written.span());
                let written = reader.written(span);
                read.needs.push(Assertion { condition, because, written, span });
            }
            ("makes", ClauseValue::Condition(written)) => {
                let Some(condition) = reader.condition(written, found) else { continue };
                let of_states = |sets: &Vec<(VariableId, u8)>| {
                    sets.iter().all(|(of, _)| is_a_state(reader, *of))
                };
                match plain(condition).filter(of_states) {
                    Some(mut sets) => read.makes.append(&mut sets),
                    None => found.add(&PlainWanted::makes(written.span())),
                }
            }
            ("expect", ClauseValue::Limit(limit)) => {
                read.expect = reader.limit(limit, Some(of_kind), found);
            }
            _ => {}
        }
    }
    Some(read)
}

fn is_a_state(reader: Reader<'_>, of: VariableId) -> bool {
    let variables = reader.model.map(|model| model.variables.as_slice()).unwrap_or_default();
    variables.get(usize::from(of.0)).is_some_and(|one| one.kind == VariableKind::State)
}

/// Values that a condition says of variables, where it says nothing else.
fn plain(condition: Condition) -> Option<Vec<(VariableId, u8)>> {
    match condition {
        Condition::All(parts) => {
            let parts: Option<Vec<_>> = parts.into_iter().map(plain).collect();
            Some(parts?.into_iter().flatten().collect())
        }
        Condition::Test(Test::Is { variable, values, .. }) => match values.as_slice() {
            [value] => Some(vec![(variable, *value)]),
            _ => None,
        },
        Condition::Test(Test::Proved { .. } | Test::Held { .. } | Test::Within { .. })
        | Condition::Always(_)
        | Condition::Not(_)
        | Condition::Any(_) => None,
    }
}
