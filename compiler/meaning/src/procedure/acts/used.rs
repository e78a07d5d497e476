//! Fasteners that may be used once only, and are let go without being taken out: they were tight once.
//!
//! Whether they were is a variable of its own beside their state: slackening makes them used, new ones
//! make it new, tightening asserts it, and tightening what is tight is never right. They start new:
//! whoever made them tight took new ones.

use super::super::laying::Laying;
use super::tightens::{brings_in, lets_go, tightens};
use crate::world::ElementAct;
use locknut_graph::{
    Assertion, Because, Condition, Effect, Test, Value, Variable, VariableId, VariableKind, Words,
};

const NEW: u8 = 0;
const USED: u8 = 1;

/// What the act does to that, and what it asks of it.
pub(super) fn of_act(
    laying: &mut Laying<'_>,
    thing: &str,
    act: &ElementAct,
) -> (Vec<Effect>, Vec<Assertion>) {
    let nothing = (Vec::new(), Vec::new());
    let Some(declared) = laying.model.things.get(thing) else { return nothing };
    let Some(element) = laying.world.elements.get(&declared.element) else { return nothing };
    if !declared.marks.contains("single use") || !element.acts.values().any(tightens) {
        return nothing;
    }
    let variable = variable(laying, thing);
    if tightens(act) {
        // What is tight by now was stretched then.
        let tight = act.to.is_some_and(|to| act.from.contains(&to));
        let condition = if tight {
            Condition::Always(false)
        } else {
            Condition::Test(Test::Is { variable, values: vec![NEW], span: declared.span })
        };
        let because = Because::SingleUse { part: declared.words.clone() };
        let written = format!("{} are new", declared.words.said);
        let span = declared.mark_spans.get("single use").copied().unwrap_or(declared.span);
        return (Vec::new(), vec![Assertion { condition, because, written, span }]);
    }
    if lets_go(element, act) {
        return (vec![Effect::Set { variable, value: USED }], Vec::new());
    }
    if brings_in(element, act) {
        // Old ones that are fitted again are told where they are fitted.
        return (vec![Effect::Set { variable, value: NEW }], Vec::new());
    }
    nothing
}

fn variable(laying: &mut Laying<'_>, thing: &str) -> VariableId {
    if let Some(known) = laying.used.get(thing) {
        return *known;
    }
    let (said, element, span) = match laying.model.things.get(thing) {
        Some(declared) => (declared.words.said.clone(), declared.element.clone(), declared.span),
        None => (thing.to_owned(), String::new(), locknut_finding::Span::default()),
    };
    let value = |name: &str| Value { words: Words::of(name), span };
    let id = laying.build.add_variable(Variable {
        words: Words::titled(&format!("{thing}-use"), &said),
        values: vec![value("new"), value("used")],
        normal: NEW,
        kind: VariableKind::Element { element },
        span,
    });
    laying.used.insert(thing.to_owned(), id);
    id
}
