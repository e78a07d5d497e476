//! `never …` on states and on acts, and `safe to leave when …`.

use super::super::names::Names;
use super::assembled::Leave;
use crate::findings::names::{BrokenFromTheStart, SaysTooLittle, UnknownAttribute};
use crate::world::read::{NoReadings, Reader, one_line};
use crate::world::{ActInterlock, Change, Model, World};
use locknut_finding::{Findings, Span};
use locknut_graph::{Condition, Interlock, Prose, Test, VariableKind};
use locknut_syntax::tree::{self, Act, Clause, ClauseValue, ModelItem, Name, Object};

/// Reads the rules of a model whose states and things are known.
pub(super) fn rules(tree: &tree::Model, world: &World, model: &mut Model, found: &mut Findings) {
    let (mut interlocks, mut act_interlocks, mut changes) = (Vec::new(), Vec::new(), Vec::new());
    let mut safe = None;
    let reader = Reader { world, model: Some(model), readings: &NoReadings };
    for item in &tree.items {
        match item {
            ModelItem::NeverState { condition, clauses, span } => {
                interlocks.extend(never_state(condition, clauses, *span, reader, found));
            }
            ModelItem::NeverAct { act, span } => {
                act_interlocks.extend(never_act(act, *span, reader, found));
            }
            ModelItem::Change { state, from, to, needs, span } => {
                changes.extend(change([state, from, to], needs, *span, reader, found));
            }
            ModelItem::SafeToLeave { condition, span } if safe.is_none() => {
                safe = Some(reader.condition(condition, found).map(|read| (read, *span)));
            }
            ModelItem::SafeToLeave { .. }
            | ModelItem::Title { .. }
            | ModelItem::Series { .. }
            | ModelItem::MadeOf { .. }
            | ModelItem::Reading { .. }
            | ModelItem::Serial { .. }
            | ModelItem::Limit { .. }
            | ModelItem::State { .. }
            | ModelItem::Element { .. }
            | ModelItem::Hazard { .. } => {}
        }
    }
    for name in model.things.keys() {
        for interlock in world.rules_of(model, name) {
            // A thing without what the rule speaks of cannot break it.
            if !interlocks.iter().any(|known: &Interlock| known.holds == interlock.holds) {
                broken_from_the_start(&interlock, reader, found);
                interlocks.push(interlock);
            }
        }
    }
    model.safe_to_leave = match safe {
        // It is there and could not be read: nothing more is said about leaving.
        Some(read) => read.unwrap_or((Condition::Always(true), model.span)),
        None => (all_normal(model), model.span),
    };
    model.changes = changes;
    model.interlocks = interlocks;
    model.act_interlocks = act_interlocks;
}

/// Who says when a model may be left.
pub(super) fn leaving(leave: Leave, model: &mut Model) {
    match leave {
        Leave::Said => model.leave_said = true,
        Leave::Taken => {}
        // Each of them has its own rule, and is proved under it.
        Leave::ByItsModels => model.safe_to_leave = (Condition::Always(true), model.span),
    }
}

/// Left out, a machine may be left where every declared state is normal.
fn all_normal(model: &Model) -> Condition {
    let states = model
        .variables
        .iter()
        .zip(0u16..)
        .filter(|(variable, _)| variable.kind == VariableKind::State);
    let normal = states.map(|(variable, id)| {
        let (variable, values) = (locknut_graph::VariableId(id), vec![variable.normal]);
        Condition::Test(Test::Is { variable, values, span: model.span })
    });
    Condition::All(normal.collect())
}

/// `never COND [unless COND] [while COND] because "…"`
fn never_state(
    condition: &tree::Condition,
    clauses: &[Clause],
    span: Span,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<Interlock> {
    let never = reader.condition(condition, found);
    let said = Said::of(clauses, span, reader, found);
    let (never, said) = (never?, said?);
    let holds = said.holds(Some(never));
    let written = said.written(&reader.written(condition.span()), reader);
    let interlock = Interlock { holds, because: said.because, span, written, held: None };
    broken_from_the_start(&interlock, reader, found);
    Some(interlock)
}

/// `change STATE : VALUE -> VALUE needs COND`
fn change(
    [state, from, to]: [&Name; 3],
    needs: &[Clause],
    span: Span,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<Change> {
    let model = reader.model?;
    let known = model.variable_named.get(&state.text);
    let declared = known.and_then(|id| Some((*id, model.variables.get(usize::from(id.0))?)));
    let Some((variable, declared)) = declared.filter(|(_, one)| one.kind == VariableKind::State)
    else {
        let states = model.variables.iter().filter(|one| one.kind == VariableKind::State);
        let states = states.map(|one| one.words.name.as_str());
        reader.unknown("state of this model", state, states, found);
        return None;
    };
    let from = reader.value_position(declared, from, found);
    let to = reader.value_position(declared, to, found);
    let needs = needs.iter().filter_map(|clause| {
        let ClauseValue::Condition(written) = &clause.value else { return None };
        let condition = reader.condition(written, found)?;
        let (because, span) = (locknut_graph::Because::Needs, written.span());
        Some(locknut_graph::Assertion { condition, because, written: reader.written(span), span })
    });
    let needs = needs.collect();
    Some(Change { variable, from: from?, to: to?, needs, span })
}

/// `never ACT [unless COND] [while COND] because "…"`
fn never_act(
    act: &Act,
    span: Span,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<ActInterlock> {
    let things = things(act, reader, found);
    let said = Said::of(&act.clauses, span, reader, found);
    let (things, said) = (things?, said?);
    let names: Vec<&str> = things.iter().map(|thing| thing.text.as_str()).collect();
    let head = format!("{} {}", act.verb.text, names.join(", "));
    let written = said.written(head.trim_end(), reader);
    Some(ActInterlock {
        verb: act.verb.text.clone(),
        things: things.iter().map(|thing| thing.text.clone()).collect(),
        holds: said.holds(None),
        because: said.because,
        written,
        span,
    })
}

/// The things of `never turn slew-pinion …`; each must take the act.
fn things(act: &Act, reader: Reader<'_>, found: &mut Findings) -> Option<Vec<Name>> {
    let model = reader.model?;
    let mut things = Vec::new();
    let mut fine = true;
    let said = act.clauses.iter().filter(|clause| clause.word.text == "at");
    let said: Vec<&Name> = said
        .flat_map(|clause| match &clause.value {
            ClauseValue::Names(names) => names.as_slice(),
            ClauseValue::Text(_)
            | ClauseValue::Limit(_)
            | ClauseValue::Condition(_)
            | ClauseValue::Definition { .. }
            | ClauseValue::Target { .. }
            | ClauseValue::Set(_)
            | ClauseValue::Despite { .. }
            | ClauseValue::Outcome(_) => &[],
        })
        .collect();
    for object in &act.objects {
        let Object::Name(name) = object else {
            found.add(&not_in_a_rule(act, reader));
            fine = false;
            continue;
        };
        if model.broken.contains(&name.text) {
            fine = false;
        } else if model.any_of(&name.text).is_none() {
            let known = model.things.keys().map(String::as_str);
            reader.unknown("thing of this model", name, known, found);
            fine = false;
        } else if reader.world.element_act(model, &name.text, &act.verb.text).is_none() {
            reader.unknown_act(model, &act.verb, name, found);
            fine = false;
        } else {
            match reader.at_points(name, &said, found) {
                Some(all) => things.extend(all),
                None => fine = false,
            }
        }
    }
    if things.is_empty() && fine {
        let mut acts = reader.world.elements.values().flat_map(|element| element.acts.keys());
        if !acts.any(|verb| *verb == act.verb.text) {
            let acts = reader.world.elements.values().flat_map(|element| element.acts.keys());
            reader.unknown("act of any element", &act.verb, acts.map(String::as_str), found);
            fine = false;
        }
    }
    fine.then_some(things)
}

/// `never turn slew-pinion 2 turns`: a rule holds for an act however far it goes.
fn not_in_a_rule(act: &Act, reader: Reader<'_>) -> UnknownAttribute {
    UnknownAttribute {
        kind: "a rule on an act".to_owned(),
        written: reader.written(act.span),
        span: act.span,
        near: None,
        word: act.span,
        like: None,
        takes: ["things", "unless …", "while …", "because \"…\""].map(str::to_owned).to_vec(),
    }
}

impl Reader<'_> {
    /// Says that a thing does not take an act.
    pub(crate) fn unknown_act(
        &self,
        model: &Model,
        verb: &Name,
        thing: &Name,
        found: &mut Findings,
    ) {
        let element =
            model.any_of(&thing.text).and_then(|thing| self.world.elements.get(&thing.element));
        let acts = element.into_iter().flat_map(|element| element.acts.keys());
        let acts: Vec<&str> = acts.map(String::as_str).collect();
        found.add(&crate::findings::names::UnknownName {
            wanted: "act of this thing",
            name: verb.text.clone(),
            span: verb.span,
            near: crate::world::near::nearest(&verb.text, acts.iter().copied()),
            else_is: Some(match element {
                Some(element) if acts.is_empty() => {
                    format!("nothing that can be done to {}", element.name)
                }
                Some(element) => format!(
                    "not among the acts of {}: {}",
                    element.name,
                    crate::findings::names::listed(&acts, "or")
                ),
                None => "not known here".to_owned(),
            }),
        });
    }
}

/// What the clauses of a rule say.
struct Said {
    unless: Option<(Condition, Span)>,
    while_so: Option<(Condition, Span)>,
    because: Prose,
}

impl Said {
    fn of(
        clauses: &[Clause],
        span: Span,
        reader: Reader<'_>,
        found: &mut Findings,
    ) -> Option<Self> {
        let (mut unless, mut while_so, mut because) = (None, None, None);
        let mut fine = true;
        let mut seen = Names::default();
        for clause in clauses {
            let what = format!("“{}” of this rule", clause.word.text);
            seen.once(what, clause.word.span, found);
            match (clause.word.text.as_str(), &clause.value) {
                (word @ ("unless" | "while"), ClauseValue::Condition(condition)) => {
                    let read =
                        reader.condition(condition, found).map(|read| (read, condition.span()));
                    fine &= read.is_some();
                    *(if word == "unless" { &mut unless } else { &mut while_so }) = read;
                }
                ("at", ClauseValue::Names(_)) => {}
                ("because", ClauseValue::Text(text)) => because = Some(reader.prose(text, found)),
                _ => reader.unknown(
                    "clause of a rule",
                    &clause.word,
                    ["unless", "while", "because"],
                    found,
                ),
            }
        }
        if because.is_none() {
            found.add(&SaysTooLittle::rule_without_reason(span));
        }
        let because = because.unwrap_or_default();
        fine.then_some(Self { unless, while_so, because })
    }

    /// What must hold: `unless`, or not what is never so, or not `while`.
    fn holds(&self, never: Option<Condition>) -> Condition {
        let not = |condition: Condition| Condition::Not(Box::new(condition));
        let unless = self.unless.iter().map(|(condition, _)| condition.clone());
        let while_so = self.while_so.iter().map(|(condition, _)| not(condition.clone()));
        let mut ways: Vec<Condition> = unless.chain(never.map(not)).chain(while_so).collect();
        match ways.len() {
            // `never turn slew-pinion because …`
            0 => Condition::Always(false),
            1 => ways.remove(0),
            _ => Condition::Any(ways),
        }
    }

    fn written(&self, head: &str, reader: Reader<'_>) -> String {
        let clause = |word: &str, part: &Option<(Condition, Span)>| {
            part.as_ref()
                .map(|(_, span)| format!(" {word} {}", reader.written(*span)))
                .unwrap_or_default()
        };
        let all =
            format!("{head}{}{}", clause("unless", &self.unless), clause("while", &self.while_so));
        one_line(&all)
    }
}

fn broken_from_the_start(interlock: &Interlock, reader: Reader<'_>, found: &mut Findings) {
    let Some(model) = reader.model else { return };
    if holds_normally(&interlock.holds, model) {
        return;
    }
    let normal = interlock.holds.variables().into_iter().filter_map(|id| {
        let variable = model.variables.get(usize::from(id.0))?;
        let value = variable.values.get(usize::from(variable.normal))?;
        Some((format!("{} is {}", variable.words.said, value.words.said), variable.span))
    });
    found.add(&BrokenFromTheStart {
        written: interlock.written.clone(),
        rule: interlock.span,
        normal: normal.collect(),
    });
}

/// Whether a condition holds while everything is normal, nothing is proved and no time was waited.
fn holds_normally(condition: &Condition, model: &Model) -> bool {
    match condition {
        Condition::Always(so) => *so,
        Condition::Not(inner) => !holds_normally(inner, model),
        Condition::All(parts) => parts.iter().all(|part| holds_normally(part, model)),
        Condition::Any(parts) => parts.iter().any(|part| holds_normally(part, model)),
        Condition::Test(test) => match test {
            Test::Is { variable, values, .. }
            | Test::Held { variable, values, under: true, .. } => {
                let variable = model.variables.get(usize::from(variable.0));
                variable.is_some_and(|variable| values.contains(&variable.normal))
            }
            Test::Proved { .. } | Test::Held { .. } | Test::Within { .. } => false,
        },
    }
}
