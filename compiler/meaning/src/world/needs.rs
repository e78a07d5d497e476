//! What an element's act needs: its declaration, relations and marks turned into assertions.

use super::read::{NoReadings, Reader};
use super::{ElementAct, ElementNever, Model, ModelThing, Need, World};
use crate::findings::names::listed;
use locknut_finding::Span;
use locknut_graph::{
    Assertion, Because, Condition, Interlock, Prose, Test, Variable, VariableId, Words,
};
use std::collections::BTreeSet;

impl World {
    /// The act that a thing of the model takes under this verb; special tools that fit the model too.
    pub(crate) fn element_act(
        &self,
        model: &Model,
        thing: &str,
        verb: &str,
    ) -> Option<&ElementAct> {
        let thing = model.any_of(thing)?;
        self.elements.get(&thing.element)?.acts.get(verb)
    }

    /// What must hold just before `act` is done to `thing`: that it is not sealed, the values it
    /// starts from, its declared needs over its relations at any depth, its marks, its own conditions.
    pub(crate) fn needs_of(&self, model: &Model, thing: &str, act: &ElementAct) -> Vec<Assertion> {
        let Some(thing) = model.things.get(thing) else { return Vec::new() };
        let asked = Asked { world: self, model, thing };
        let mut all: Vec<Assertion> = asked.sealed().into_iter().collect();
        all.extend(asked.from(act));
        all.extend(act.needs.iter().flat_map(|need| asked.need(need, act.span)));
        all
    }

    /// What the element of a thing says that it never is, as interlocks of the model.
    pub(crate) fn rules_of(&self, model: &Model, thing: &str) -> Vec<Interlock> {
        let Some(thing) = model.things.get(thing) else { return Vec::new() };
        let Some(element) = self.elements.get(&thing.element) else { return Vec::new() };
        let asked = Asked { world: self, model, thing };
        let rule = |never: &ElementNever| {
            let variable = asked.variable(thing.variable)?;
            let needs: Vec<Assertion> =
                never.needs.iter().flat_map(|need| asked.need(need, never.span)).collect();
            let unless: Vec<&str> = needs.iter().map(|need| need.written.as_str()).collect();
            let unless = listed(&unless, "and");
            let so = said(variable, false, &never.values);
            let written = if never.needs.is_empty() { so } else { format!("{so} unless {unless}") };
            let is_so = is(thing.variable, never.values.clone(), never.span);
            let not_so = Condition::Not(Box::new(is_so));
            let all = needs.into_iter().map(|need| need.condition).collect();
            let holds = if never.needs.is_empty() {
                not_so
            } else {
                Condition::Any(vec![not_so, Condition::All(all)])
            };
            let because = Prose::plain(never.because.clone());
            Some(Interlock { holds, because, span: never.span, written, held: None })
        };
        element.nevers.iter().filter_map(rule).collect()
    }

    /// What locks ask of a write of `variable` to `value`: while one bars it at another value, it may
    /// not be taken from there.
    pub(crate) fn lock_assertions(
        &self,
        model: &Model,
        variable: VariableId,
        value: u8,
    ) -> Vec<Assertion> {
        let mut all = Vec::new();
        for lock in model.things.values() {
            let barred =
                lock.bars.iter().filter(|(barred, at)| *barred == variable && *at != value);
            for (_, at) in barred {
                let asked = Asked { world: self, model, thing: lock };
                all.extend(asked.barred(variable, *at));
            }
        }
        all
    }

    /// What keeps a thing from coming loose, as far as the machine does: that it is not where it
    /// belongs, or that something which must be undone before it leaves its place is not undone.
    pub(crate) fn keeps_in_place(&self, model: &Model, thing: &str) -> Vec<Condition> {
        let Some(of) = model.things.get(thing) else { return Vec::new() };
        let Some(variable) = model.variables.get(usize::from(of.variable.0)) else {
            return Vec::new();
        };
        let normal = is(of.variable, vec![variable.normal], of.span);
        let mut keeps = vec![Condition::Not(Box::new(normal))];
        let acts = self.elements.get(&of.element).into_iter().flat_map(|kind| kind.acts.values());
        for act in acts.filter(|act| act.from.contains(&variable.normal) && act.to.is_some()) {
            for need in self.needs_of(model, thing, act) {
                if matches!(&need.because, Because::Relation { relation, .. } if relation != "behind")
                {
                    keeps.push(Condition::Not(Box::new(need.condition)));
                }
            }
        }
        keeps
    }

    /// A thing that somebody holds, and whatever keeps it in its place.
    pub(crate) fn held_with(&self, model: &Model, thing: &str) -> Vec<String> {
        let keeps: BTreeSet<_> =
            self.keeps_in_place(model, thing).iter().flat_map(Condition::variables).collect();
        let kept = model.things.iter().filter(|(_, of)| keeps.contains(&of.variable));
        let kept = kept.map(|(name, _)| name.clone()).filter(|name| name != thing);
        std::iter::once(thing.to_owned()).chain(kept).collect()
    }

    /// Everything that `thing` has a relation to; through other things where the relation is
    /// followed at any depth. With each, the place that says so nearest to `thing`.
    pub(crate) fn related(
        &self,
        model: &Model,
        thing: &str,
        relation: &str,
    ) -> Vec<(String, Span)> {
        let deep = self
            .elements
            .values()
            .any(|element| element.relations.get(relation).is_some_and(|kind| kind.any_depth));
        let mut seen = BTreeSet::from([thing.to_owned()]);
        let mut all: Vec<(String, Span)> = Vec::new();
        let mut left = vec![(thing.to_owned(), None)];
        while let Some((name, place)) = left.pop() {
            let Some(from) = model.things.get(&name) else { continue };
            for other in from.relations.get(relation).into_iter().flatten() {
                if !seen.insert(other.clone()) {
                    continue;
                }
                let key = (relation.to_owned(), other.clone());
                let here = from.relation_spans.get(&key).copied().unwrap_or(from.span);
                let place = place.unwrap_or(here);
                all.push((other.clone(), place));
                if deep {
                    left.push((other.clone(), Some(place)));
                }
            }
        }
        all
    }
}

/// A thing of which something is asked.
struct Asked<'a> {
    world: &'a World,
    model: &'a Model,
    thing: &'a ModelThing,
}

impl Asked<'_> {
    fn sealed(&self) -> Option<Assertion> {
        let (because, otherwise, span) = self.thing.sealed.as_ref()?;
        let (part, because) = (self.thing.words.clone(), because.clone());
        Some(Assertion {
            condition: Condition::Always(false),
            written: format!("{} is sealed", part.said),
            because: Because::Sealed { part, because, otherwise: otherwise.clone() },
            span: *span,
        })
    }

    /// "Only slack or snug bolts are tightened."
    fn from(&self, act: &ElementAct) -> Option<Assertion> {
        let variable = self.variable(self.thing.variable)?;
        if act.from.is_empty() {
            return None;
        }
        let (id, span) = (self.thing.variable, act.span);
        Some(Assertion {
            condition: is(id, act.from.clone(), span),
            because: Because::Element { thing: self.thing.words.clone() },
            written: said(variable, false, &act.from),
            span,
        })
    }

    fn each(&self, relation: &str, negated: bool, values: &[String]) -> Vec<Assertion> {
        let related = self.world.related(self.model, &self.thing.words.name, relation);
        related
            .into_iter()
            .filter_map(|(other, span)| {
                let id = *self.model.variable_named.get(&other)?;
                let variable = self.variable(id)?;
                let positions = positions(variable, values);
                // A thing that can never be so has a finding at the relation itself.
                if positions.is_empty() {
                    return None;
                }
                let written = said(variable, negated, &positions);
                let condition = is(id, positions, span);
                Some(Assertion {
                    condition: if negated {
                        Condition::Not(Box::new(condition))
                    } else {
                        condition
                    },
                    because: self.relation(relation, &variable.words),
                    written,
                    span,
                })
            })
            .collect()
    }

    fn need(&self, need: &Need, asked_at: Span) -> Vec<Assertion> {
        match need {
            Need::Each { relation, negated, values, .. } => self.each(relation, *negated, values),
            Need::Mark { mark, wanted, .. } => {
                self.mark(mark, *wanted, asked_at).into_iter().collect()
            }
            Need::Own { word, .. } => self.own(word).into_iter().collect(),
        }
    }

    fn mark(&self, mark: &str, wanted: bool, asked_at: Span) -> Option<Assertion> {
        let has = self.thing.marks.contains(mark);
        if has == wanted {
            return None;
        }
        let part = self.thing.words.clone();
        let not = if wanted { "not " } else { "" };
        Some(Assertion {
            condition: Condition::Always(false),
            written: format!("{} is {not}{mark}", part.said),
            because: match mark {
                "single use" => Because::SingleUse { part },
                _ => Because::Element { thing: part },
            },
            span: self.thing.mark_spans.get(mark).copied().unwrap_or(asked_at),
        })
    }

    /// `dead when supply is isolated`, or what a lock bars: the lock goes on only there.
    fn own(&self, word: &str) -> Option<Assertion> {
        let condition = self.thing.own_conditions.get(word)?;
        let thing = self.thing.words.clone();
        let tests = condition.tests();
        let first = tests.first().and_then(|test| test.variable()).and_then(|id| self.variable(id));
        let because = match (word, first) {
            ("dead", _) => Because::Dead { thing },
            (word, Some(other)) if self.thing.relations.contains_key(word) => {
                self.relation(word, &other.words)
            }
            _ => Because::Element { thing },
        };
        let span = tests.first().map_or(self.thing.span, |test| test_span(test));
        let reader = Reader { world: self.world, model: Some(self.model), readings: &NoReadings };
        let last = tests.last().map_or(span, |test| test_span(test));
        let written = reader.written(span.to(last));
        let written = if word == "dead" { written } else { written.replacen(" at ", " is ", 1) };
        Some(Assertion { condition: condition.clone(), because, written, span })
    }

    /// While the lock is on, the variable stays where it is barred.
    fn barred(&self, variable: VariableId, at: u8) -> Option<Assertion> {
        let element = self.world.elements.get(&self.thing.element)?;
        let on: Vec<String> =
            element.relations.values().flat_map(|kind| kind.bars_while.iter().cloned()).collect();
        let lock = self.variable(self.thing.variable)?;
        let span = self.thing.span;
        let (state, positions) = (self.variable(variable)?, positions(lock, &on));
        let is_on = is(self.thing.variable, positions.clone(), span);
        let is_there = is(variable, vec![at], span);
        let not = |condition| Condition::Not(Box::new(condition));
        Some(Assertion {
            condition: Condition::Any(vec![not(is_on), not(is_there)]),
            because: Because::Lock { lock: self.thing.words.clone() },
            written: format!("{}, or {}", said(lock, true, &positions), said(state, true, &[at])),
            span,
        })
    }

    fn relation(&self, relation: &str, other: &Words) -> Because {
        Because::Relation {
            relation: relation.to_owned(),
            thing: self.thing.words.clone(),
            other: other.clone(),
        }
    }

    fn variable(&self, id: VariableId) -> Option<&Variable> {
        self.model.variables.get(usize::from(id.0))
    }
}

fn is(variable: VariableId, values: Vec<u8>, span: Span) -> Condition {
    Condition::Test(Test::Is { variable, values, span })
}

/// Which of some values a variable has.
fn positions(variable: &Variable, values: &[String]) -> Vec<u8> {
    let own = variable.values.iter().zip(0u8..);
    own.filter(|(value, _)| values.contains(&value.words.name)).map(|(_, at)| at).collect()
}

/// `cover bolts are slack or snug`
fn said(variable: &Variable, negated: bool, values: &[u8]) -> String {
    let values: Vec<&str> = values
        .iter()
        .filter_map(|value| variable.values.get(usize::from(*value)))
        .map(|value| value.words.said.as_str())
        .collect();
    let not = if negated { "not " } else { "" };
    let (name, verb) = (&variable.words.said, variable.is_or_are());
    format!("{name} {verb} {not}{}", listed(&values, "or"))
}

fn test_span(test: &Test) -> Span {
    match test {
        Test::Is { span, .. }
        | Test::Proved { span, .. }
        | Test::Held { span, .. }
        | Test::Within { span, .. } => *span,
    }
}
