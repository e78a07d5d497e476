//! Conditions on states, elements, tools, variants and readings.

use super::Reader;
use crate::findings::names::{CannotBeKnown, UnknownName, UnknownValue};
use crate::world::near::nearest;
use locknut_finding::{Findings, Span};
use locknut_graph::{Condition, Test, Variable, VariableId};
use locknut_syntax::tree::{self, Name};

impl Reader<'_> {
    /// A condition.
    pub(crate) fn condition(
        &self,
        written: &tree::Condition,
        found: &mut Findings,
    ) -> Option<Condition> {
        match written {
            tree::Condition::Is { subject, point, negated, proved, values, lasting, span } => {
                let point: Vec<&Name> = point.iter().collect();
                let subjects = self.at_points(subject, &point, found)?;
                let each = subjects.iter().map(|subject| {
                    self.is(subject, *proved, values, lasting.as_ref(), *span, found)
                });
                let mut each = each.collect::<Option<Vec<_>>>()?;
                // At every point, what is not so as well as what is.
                if *negated {
                    for one in &mut each {
                        *one = Condition::Not(Box::new(std::mem::replace(
                            one,
                            Condition::Always(true),
                        )));
                    }
                }
                let is = if each.len() == 1 { each.remove(0) } else { Condition::All(each) };
                Some(is)
            }
            tree::Condition::Series { values, span } => self.series(values, *span, found),
            tree::Condition::Serial { from, to, span } => {
                self.serial(from.as_ref(), to.as_ref(), *span, found)
            }
            tree::Condition::Within { value, limit, span } => {
                self.within(value, limit, *span, found)
            }
            tree::Condition::Each { span, .. } | tree::Condition::Mark { span, .. } => {
                found.add(&CannotBeKnown {
                    what: "“each” or a mark",
                    place: "a line about one machine",
                    span: *span,
                    mend: "name the thing itself, as in “cover-bolts is out”",
                });
                None
            }
            tree::Condition::Not(inner, _) => self.not(inner, found),
            tree::Condition::And(parts, _) => Some(Condition::All(self.conditions(parts, found)?)),
            tree::Condition::Or(parts, _) => Some(Condition::Any(self.conditions(parts, found)?)),
        }
    }

    /// What is not so, brought down to each test: of a thing at points it speaks of every point.
    fn not(&self, written: &tree::Condition, found: &mut Findings) -> Option<Condition> {
        match written {
            tree::Condition::Is { subject, point, negated, proved, values, lasting, span } => {
                let is = tree::Condition::Is {
                    subject: subject.clone(),
                    point: point.clone(),
                    negated: !negated,
                    proved: *proved,
                    values: values.clone(),
                    lasting: lasting.clone(),
                    span: *span,
                };
                self.condition(&is, found)
            }
            tree::Condition::Not(inner, _) => self.condition(inner, found),
            tree::Condition::And(parts, _) => {
                let parts: Vec<_> = parts.iter().map(|part| self.not(part, found)).collect();
                Some(Condition::Any(parts.into_iter().collect::<Option<_>>()?))
            }
            tree::Condition::Or(parts, _) => {
                let parts: Vec<_> = parts.iter().map(|part| self.not(part, found)).collect();
                Some(Condition::All(parts.into_iter().collect::<Option<_>>()?))
            }
            tree::Condition::Series { .. }
            | tree::Condition::Serial { .. }
            | tree::Condition::Within { .. }
            | tree::Condition::Each { .. }
            | tree::Condition::Mark { .. } => {
                Some(Condition::Not(Box::new(self.condition(written, found)?)))
            }
        }
    }

    fn conditions(
        &self,
        parts: &[tree::Condition],
        found: &mut Findings,
    ) -> Option<Vec<Condition>> {
        let read: Vec<_> = parts.iter().map(|part| self.condition(part, found)).collect();
        read.into_iter().collect()
    }

    fn is(
        &self,
        subject: &Name,
        proved: bool,
        values: &[Name],
        lasting: Option<&(Box<tree::Expression>, bool)>,
        span: Span,
        found: &mut Findings,
    ) -> Option<Condition> {
        let (variable, values) = self.variable_values(subject, values, found)?;
        let test = |test| Condition::Test(test);
        let held = match lasting {
            None => None,
            Some((duration, under)) => {
                let (seconds, _) = self.duration(duration, found)?;
                let (values, under) = (values.clone(), *under);
                Some(test(Test::Held { variable, values, seconds, under, span }))
            }
        };
        Some(match (proved, held) {
            (false, None) => test(Test::Is { variable, values, span }),
            (false, Some(held)) => held,
            (true, None) => test(Test::Proved { variable, values, span }),
            (true, Some(held)) => {
                Condition::All(vec![test(Test::Proved { variable, values, span }), held])
            }
        })
    }

    /// A state, element, tool or observation, and the positions of some of its values.
    pub(crate) fn variable_values(
        &self,
        subject: &Name,
        values: &[Name],
        found: &mut Findings,
    ) -> Option<(VariableId, Vec<u8>)> {
        let of_model = self.model.and_then(|model| {
            let id = *model.variable_named.get(&subject.text)?;
            Some((id, model.variables.get(usize::from(id.0))?))
        });
        if let Some((id, variable)) = of_model {
            let positions: Vec<_> =
                values.iter().map(|value| self.value_position(variable, value, found)).collect();
            return Some((id, positions.into_iter().collect::<Option<_>>()?));
        }
        self.observed_values(subject, values, found)
    }

    fn observed_values(
        &self,
        subject: &Name,
        values: &[Name],
        found: &mut Findings,
    ) -> Option<(VariableId, Vec<u8>)> {
        let mut positions = Vec::new();
        let mut variable = None;
        for value in values {
            match self.readings.observation(&subject.text, &value.text) {
                Some(Ok((id, position))) => {
                    variable = Some(id);
                    positions.push(position);
                }
                Some(Err(answers)) => {
                    no_such_value(subject.text.clone(), value, answers, subject.span, found);
                    return None;
                }
                None => {
                    let readings = self.readings.names();
                    let known = self.variable_names().chain(readings.iter().map(String::as_str));
                    self.unknown("state, element or tool", subject, known, found);
                    return None;
                }
            }
        }
        Some((variable?, positions))
    }

    /// The position of a value among those of a variable, or a finding.
    pub(crate) fn value_position(
        &self,
        variable: &Variable,
        value: &Name,
        found: &mut Findings,
    ) -> Option<u8> {
        let position = variable.values.iter().position(|known| known.words.name == value.text);
        if let Some(position) = position.and_then(|position| u8::try_from(position).ok()) {
            return Some(position);
        }
        let values = variable.values.iter().map(|value| value.words.name.clone()).collect();
        let subject = self.words(&variable.words.name).said;
        no_such_value(subject, value, values, variable.span, found);
        None
    }

    fn series(&self, values: &[Name], span: Span, found: &mut Findings) -> Option<Condition> {
        let known = self.model.map(|model| model.series.as_slice()).unwrap_or_default();
        if let Some(value) = values.iter().find(|value| !known.contains(&value.text)) {
            found.add(&UnknownName {
                wanted: "series of this model",
                name: value.text.clone(),
                span: value.span,
                near: nearest(&value.text, known.iter().map(String::as_str)),
                else_is: None,
            });
            return None;
        }
        let names: Vec<String> = values.iter().map(|value| value.text.clone()).collect();
        let variant = self.readings.series(&names);
        variant_test(variant, "the series", span, found)
    }

    fn serial(
        &self,
        from: Option<&tree::Number>,
        to: Option<&tree::Number>,
        span: Span,
        found: &mut Findings,
    ) -> Option<Condition> {
        let whole = |number: &tree::Number| number.text.parse::<u64>().ok();
        let bounds = [from, to].map(|bound| bound.map(whole));
        if bounds.contains(&Some(None)) {
            self.impossible(span, "a serial number is a whole number".to_owned(), None, found);
            return None;
        }
        if self.model.is_some_and(|model| !model.has_serial) {
            found.add(&UnknownName {
                wanted: "serial number of this model",
                name: self.written(span),
                span,
                near: None,
                else_is: Some("asked for, but the model has no line “serial number”".to_owned()),
            });
            return None;
        }
        let [from, to] = bounds.map(Option::flatten);
        if let (Some(from), Some(to)) = (from, to)
            && from > to
        {
            self.impossible(span, "no serial number lies in it".to_owned(), None, found);
            return None;
        }
        variant_test(self.readings.serial(from, to), "the serial number", span, found)
    }

    fn within(
        &self,
        value: &tree::Expression,
        limit: &tree::Limit,
        span: Span,
        found: &mut Findings,
    ) -> Option<Condition> {
        let value = self.typed(value, None, found)?;
        let mut limit = self.limit(limit, Some(value.kind), found)?;
        limit.unit = self.units().of_difference(limit.unit);
        let written = self.written(span);
        let value = value.value;
        Some(Condition::Test(Test::Within { value, limit, written, span }))
    }
}

fn no_such_value(
    subject: String,
    value: &Name,
    values: Vec<String>,
    declared: Span,
    found: &mut Findings,
) {
    let near = nearest(&value.text, values.iter().map(String::as_str));
    let (value, span) = (value.text.clone(), value.span);
    found.add(&UnknownValue { subject, value, span, values, near, declared });
}

fn variant_test(
    variant: Option<(VariableId, Vec<u8>)>,
    what: &'static str,
    span: Span,
    found: &mut Findings,
) -> Option<Condition> {
    let Some((variable, values)) = variant else {
        found.add(&CannotBeKnown {
            what,
            place: "a rule of a model",
            span,
            mend: "a model's rules hold for all its machines: ask in the procedure, with “for” or “when”",
        });
        return None;
    };
    Some(Condition::Test(Test::Is { variable, values, span }))
}
