//! `act tighten : slack or snug -> tight needs each fastens is in-place`

use crate::findings::names::{NeedOutOfForm, SaysTooLittle, UnknownName, UnknownValue};
use crate::world::near::nearest;
use crate::world::{ElementAct, ElementKind, ElementNever, Need};
use locknut_finding::{Findings, Span};
use locknut_syntax::tree::{self, Condition, Name, Part, Text};
use std::collections::{BTreeMap, BTreeSet};

/// Reads an act of an element whose states, marks and relations are known, as are all other elements.
pub(super) fn act(
    line: &tree::ElementAct,
    element: &ElementKind,
    elements: &BTreeMap<String, ElementKind>,
    found: &mut Findings,
) -> ElementAct {
    let mut state = |name: &Name| state(name, element, found);
    let from = line.from.iter().filter_map(&mut state).collect();
    let to = line.to.as_ref().and_then(state);
    let mut needs = Vec::new();
    for need in line.needs.iter().flat_map(all_of) {
        let asked = Asked { asks: format!("the act {}", line.verb.text), element, elements };
        let read = asked.need(need, found);
        needs.extend(read);
    }
    ElementAct {
        verb: line.verb.text.clone(),
        from,
        to,
        new: line.marks.iter().any(|mark| mark.text == "new"),
        needs,
        takes: taken(line),
        span: line.span,
    }
}

/// Reads a rule of an element: what it never is, unless all of some needs hold.
pub(super) fn never(
    line: Rule<'_>,
    element: &ElementKind,
    elements: &BTreeMap<String, ElementKind>,
    found: &mut Findings,
) -> Option<ElementNever> {
    let Rule { values, unless, because, span } = line;
    let values = values.iter().filter_map(|name| state(name, element, found)).collect();
    let asked = Asked { asks: "the rule".to_owned(), element, elements };
    let needs = unless.into_iter().flat_map(all_of).map(|need| asked.need(need, found));
    let needs: Vec<Option<Need>> = needs.collect();
    if because.is_none() {
        found.add(&SaysTooLittle::rule_without_reason(span));
    }
    let because = because.map(Text::plain).unwrap_or_default();
    // With a need that could not be read it would forbid more than it says.
    let needs = needs.into_iter().collect::<Option<Vec<_>>>()?;
    Some(ElementNever { values, needs, because, span })
}

/// `never VALUES unless NEEDS because "…"`
#[derive(Clone, Copy)]
pub(super) struct Rule<'t> {
    pub(super) values: &'t [Name],
    pub(super) unless: Option<&'t Condition>,
    pub(super) because: Option<&'t Text>,
    pub(super) span: Span,
}

/// `a and b and c` as its parts.
fn all_of(condition: &Condition) -> Vec<&Condition> {
    if let Condition::And(parts, _) = condition {
        return parts.iter().flat_map(all_of).collect();
    }
    vec![condition]
}

fn state(name: &Name, element: &ElementKind, found: &mut Findings) -> Option<u8> {
    let position = element.states.iter().position(|state| *state == name.text);
    if position.is_none() {
        found.add(&UnknownValue {
            subject: element.name.clone(),
            value: name.text.clone(),
            span: name.span,
            values: element.states.clone(),
            near: nearest(&name.text, element.states.iter().map(String::as_str)),
            declared: element.span,
        });
    }
    u8::try_from(position?).ok()
}

fn taken(line: &tree::ElementAct) -> BTreeSet<String> {
    let parts = line.attributes.iter().flat_map(|attribute| &attribute.parts);
    parts
        .filter_map(|part| match part {
            Part::Word(word) => Some(word.text.clone()),
            Part::Limit(_) | Part::Text(_) | Part::Condition(_) => None,
        })
        .collect()
}

/// An act or rule whose needs are read.
struct Asked<'a> {
    /// `the act close`, `the rule`.
    asks: String,
    element: &'a ElementKind,
    elements: &'a BTreeMap<String, ElementKind>,
}

impl Asked<'_> {
    fn need(&self, condition: &Condition, found: &mut Findings) -> Option<Need> {
        match condition {
            Condition::Each { relation, negated, values, span } => {
                self.each(relation, values, found)?;
                Some(Need::Each {
                    relation: relation.text.clone(),
                    negated: *negated,
                    values: values.iter().map(|value| value.text.clone()).collect(),
                    span: *span,
                })
            }
            Condition::Mark { words, span } => self.mark_or_word(words, true, *span, found),
            Condition::Not(inner, span) => {
                if let Condition::Mark { words, .. } = inner.as_ref() {
                    return self.mark_or_word(words, false, *span, found);
                }
                self.out_of_form(inner, found)
            }
            Condition::Is { .. }
            | Condition::Series { .. }
            | Condition::Serial { .. }
            | Condition::Within { .. }
            | Condition::And(..)
            | Condition::Or(..) => self.out_of_form(condition, found),
        }
    }

    fn each(&self, relation: &Name, values: &[Name], found: &mut Findings) -> Option<()> {
        let others = self.others(&relation.text);
        if others.is_empty() {
            let known = self.known_relations();
            found.add(&UnknownName {
                wanted: "relation of this element",
                name: relation.text.clone(),
                span: relation.span,
                near: nearest(&relation.text, known.iter().map(String::as_str)),
                else_is: None,
            });
            return None;
        }
        let leads_to_state = self
            .element
            .relations
            .get(&relation.text)
            .is_some_and(|relation| relation.to.as_deref() == Some("state"));
        let known = |value: &&Name| others.iter().any(|other| other.states.contains(&value.text));
        for value in values.iter().filter(|value| !leads_to_state && !known(value)) {
            let states: BTreeSet<&String> = others.iter().flat_map(|other| &other.states).collect();
            found.add(&UnknownValue {
                subject: format!("what {} leads to", relation.text),
                value: value.text.clone(),
                span: value.span,
                values: states.iter().map(|state| (*state).clone()).collect(),
                near: nearest(&value.text, states.iter().map(|state| state.as_str())),
                declared: relation.span,
            });
        }
        Some(())
    }

    /// The elements that may stand at the other end of a relation, of its own or seen from it.
    fn others(&self, relation: &str) -> Vec<&ElementKind> {
        if let Some(own) = self.element.relations.get(relation) {
            return match own.to.as_deref() {
                // A state has its own values: any element will do to say that the relation is there.
                None | Some("state") => self.elements.values().collect(),
                Some(to) => self.elements.get(to).into_iter().collect(),
            };
        }
        let all = self.elements.values();
        let seen =
            all.filter(|other| other.relations.values().any(|kind| self.is_seen(kind, relation)));
        let seen: Vec<&ElementKind> = seen.collect();
        if seen.is_empty() && self.shared().any(|shared| shared == relation) {
            return self.elements.values().collect();
        }
        seen
    }

    fn is_seen(&self, kind: &crate::world::RelationKind, relation: &str) -> bool {
        let leads_here = kind.to.as_ref().is_none_or(|to| *to == self.element.name);
        leads_here && kind.inverse.as_deref() == Some(relation)
    }

    fn shared(&self) -> impl Iterator<Item = &String> {
        self.element.relations.values().flat_map(|relation| &relation.shares)
    }

    fn known_relations(&self) -> Vec<String> {
        let own = self.element.relations.keys().cloned();
        let all = self.elements.values().flat_map(|other| other.relations.values());
        let seen =
            all.filter_map(|kind| kind.inverse.clone().filter(|name| self.is_seen(kind, name)));
        own.chain(seen).chain(self.shared().cloned()).collect()
    }

    /// `single use` is a mark; `dead` and `bars` are what a thing declares itself.
    fn mark_or_word(
        &self,
        words: &[Name],
        wanted: bool,
        span: locknut_finding::Span,
        found: &mut Findings,
    ) -> Option<Need> {
        let said: Vec<&str> = words.iter().map(|word| word.text.as_str()).collect();
        let said = said.join(" ");
        if self.element.marks.contains(&said) {
            return Some(Need::Mark { mark: said, wanted, span });
        }
        let barring = self.element.relations.get(&said).is_some_and(|relation| relation.at_a_value);
        if wanted && (barring || self.element.attributes.contains(&said)) {
            return Some(Need::Own { word: said, span });
        }
        let known = self.element.marks.iter().chain(&self.element.attributes);
        found.add(&UnknownName {
            wanted: "mark or attribute of this element",
            near: nearest(&said, known.map(String::as_str)),
            name: said,
            span,
            else_is: None,
        });
        None
    }

    fn out_of_form(&self, condition: &Condition, found: &mut Findings) -> Option<Need> {
        let (element, asks) = (self.element.name.clone(), self.asks.clone());
        found.add(&NeedOutOfForm { element, asks, span: condition.span() });
        None
    }
}
