//! How the machine is taken over and given back: `starts with …`, `leaves …`, and what is owed.

use super::laying::Laying;
use crate::findings::flow::PlainWanted;
use crate::findings::names::SaysTooLittle;
use locknut_finding::Span;
use locknut_graph::{
    Assertion, Because, Condition, Prose, Restore, Surely, Test, Value, Variable, VariableId,
    VariableKind, Words,
};
use locknut_quantity::Exact;
use locknut_syntax::tree::{self, Header, Procedure};
use std::collections::BTreeMap;

/// How a procedure finds the machine, where that is otherwise than normal.
#[derive(Debug, Default)]
pub(super) struct Starts {
    pub(super) values: BTreeMap<VariableId, Vec<u8>>,
    pub(super) proved: Vec<VariableId>,
    pub(super) held: Vec<(VariableId, Exact)>,
}

/// `starts with S is b for D`, `starts with S is proved v`.
pub(super) fn starts(laying: &mut Laying<'_>, procedure: &Procedure) -> Starts {
    let mut starts = Starts::default();
    for header in &procedure.headers {
        if let Header::StartsUnknown { state, .. } = header {
            let at_points = laying.read(|reader, found| reader.at_points(state, &[], found));
            for state in at_points.unwrap_or_default() {
                starts_unknown(laying, &state, &mut starts);
            }
        }
        let Header::Starts { condition, .. } = header else { continue };
        let span = condition.span();
        let Some(condition) = laying.condition(condition) else { continue };
        for part in parts(condition) {
            if !starts.take(&part) {
                laying.found.add(&PlainWanted::starts(span));
            }
        }
    }
    starts
}

/// `starts with S unknown`: any value, until an act sets it or a reading proves it.
fn starts_unknown(laying: &mut Laying<'_>, state: &tree::Name, starts: &mut Starts) {
    let known = laying.model.variable_named.get(&state.text).copied();
    let declared = known.and_then(|id| Some((id, laying.model.variables.get(usize::from(id.0))?)));
    let Some((variable, declared)) = declared else {
        let names: Vec<&str> = laying.model.variable_named.keys().map(String::as_str).collect();
        laying.read(|reader, found| reader.unknown("state of this model", state, names, found));
        return;
    };
    let values = (0u8..).zip(&declared.values).map(|(value, _)| value).collect();
    let said = declared.words.said.clone();
    starts.values.insert(variable, values);
    let value = |said: &str| Value { words: Words::of(said), span: state.span };
    let unknown = laying.build.add_variable(Variable {
        words: Words::titled(
            &format!("{}-is-known", state.text),
            &format!("what is known of {said}"),
        ),
        values: vec![value("known"), value("unknown")],
        normal: 0,
        kind: VariableKind::Unknown { of: variable },
        span: state.span,
    });
    starts.values.insert(unknown, vec![1]);
    laying.unknown.insert(variable, unknown);
}

impl Starts {
    fn take(&mut self, part: &Condition) -> bool {
        match part {
            Condition::Test(Test::Is { variable, values, .. }) => {
                self.values.insert(*variable, values.clone());
            }
            Condition::Test(Test::Proved { variable, values, .. }) => {
                self.values.insert(*variable, values.clone());
                self.proved.push(*variable);
            }
            Condition::Test(Test::Held { variable, values, seconds, under: false, .. }) => {
                self.values.insert(*variable, values.clone());
                self.held.push((*variable, seconds.clone()));
            }
            Condition::Test(Test::Held { .. } | Test::Within { .. })
            | Condition::Always(_)
            | Condition::Not(_)
            | Condition::All(_)
            | Condition::Any(_) => return false,
        }
        true
    }
}

/// What a subtask asks for where it is called: its `starts with`, and that it is for this machine.
pub(super) fn entry_needs(laying: &mut Laying<'_>, subtask: &Procedure) -> Vec<Assertion> {
    let mut needs = Vec::new();
    for header in &subtask.headers {
        let (Header::Starts { condition, .. } | Header::For { condition, .. }) = header else {
            continue;
        };
        for part in all_of(condition) {
            let span = part.span();
            let written = laying.written(span);
            let written = match &laying.scope.at {
                Some(point) => format!("{written}, at {point}"),
                None => written,
            };
            let Some(condition) = laying.condition(part) else { continue };
            let because = Because::StartsWith { subtask: subtask.name.text.clone() };
            needs.push(Assertion { condition, because, written, span });
        }
    }
    needs
}

/// The parts of a written condition that must all hold.
fn all_of(condition: &tree::Condition) -> Vec<&tree::Condition> {
    if let tree::Condition::And(parts, _) = condition {
        parts.iter().flat_map(all_of).collect()
    } else {
        vec![condition]
    }
}

/// What `leaves …` says is left otherwise than normal, or than found.
pub(super) fn leaves(laying: &mut Laying<'_>, procedure: &Procedure) -> Vec<Restore> {
    let mut left: Vec<Restore> = Vec::new();
    for header in &procedure.headers {
        let Header::Leaves { condition, because, span } = header else { continue };
        let says_nothing = because.as_ref().is_none_or(|text| !says_something(text));
        if says_nothing && procedure.keyword.text == "procedure" {
            laying.found.add(&no_reason(*span));
        }
        let because = because.as_ref().map(|because| laying.prose(because));
        left.extend(leaves_so(laying, condition, because.as_ref(), *span));
    }
    left
}

/// A reason has letters; the dots of a mend that nobody has filled in are none.
fn says_something(text: &tree::Text) -> bool {
    text.plain().chars().any(char::is_alphabetic)
}

fn leaves_so(
    laying: &mut Laying<'_>,
    condition: &tree::Condition,
    because: Option<&Prose>,
    span: Span,
) -> Vec<Restore> {
    let place = condition.span();
    let Some(condition) = laying.condition(condition) else { return Vec::new() };
    let mut left = Vec::new();
    for part in parts(condition) {
        let (variable, values, surely) = match part {
            Condition::Test(Test::Is { variable, values, .. }) => (variable, values, Surely::So),
            Condition::Test(Test::Proved { variable, values, .. }) => {
                (variable, values, Surely::Proved)
            }
            Condition::Test(Test::Held { variable, values, seconds, under: false, .. }) => {
                (variable, values, Surely::For(seconds))
            }
            Condition::Test(Test::Held { .. } | Test::Within { .. })
            | Condition::Always(_)
            | Condition::Not(_)
            | Condition::All(_)
            | Condition::Any(_) => {
                laying.found.add(&PlainWanted::leaves(place));
                continue;
            }
        };
        left.push(Restore { variable, values, surely, because: because.cloned(), span });
    }
    left
}

/// What must be so at *done*: normal, or as `leaves` says.
pub(super) fn owed(laying: &Laying<'_>, leaves: Vec<Restore>) -> Vec<Restore> {
    let machine = (0u16..).map(VariableId).zip(&laying.model.variables);
    let mut owed = leaves;
    for (variable, declared) in machine {
        if declared.kind.of_machine() && !owed.iter().any(|restore| restore.variable == variable) {
            let (values, span) = (vec![declared.normal], declared.span);
            owed.push(Restore { variable, values, surely: Surely::So, because: None, span });
        }
    }
    owed.sort_by_key(|restore| restore.variable);
    owed
}

/// The parts of a condition that must all hold.
pub(super) fn parts(condition: Condition) -> Vec<Condition> {
    match condition {
        Condition::All(all) => all.into_iter().flat_map(parts).collect(),
        Condition::Always(_) | Condition::Test(_) | Condition::Not(_) | Condition::Any(_) => {
            vec![condition]
        }
    }
}

fn no_reason(span: Span) -> SaysTooLittle<'static> {
    SaysTooLittle {
        what: "this `leaves`".to_owned(),
        lacks: "no reason",
        span,
        consequence: "the tag on the machine cannot say why it is left so, and the next person puts it back",
        mend: "add: because \"…\"",
    }
}
