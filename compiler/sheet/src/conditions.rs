//! A condition in words, so that nobody can read it otherwise than it is proved: what hangs together stands in
//! brackets, and what must be proved, or must have stood for some time, says so.

use crate::as_written;
use crate::places::value_words;
use crate::rules::said;
use crate::words::Speaker;
use locknut_graph::{
    Condition, Expression, ReadingId, ReadingKind, Test, VariableId, VariableKind,
};
use locknut_quantity::Limit;
use std::collections::BTreeSet;

/// Of more values than that, those that a state does not have are told.
const MOST_VALUES: usize = 3;

/// `series B or C`, `brake: released, and that was proved`, `series A and (noise: yes or gap over 2 mm)`.
pub(crate) fn condition_words(speak: Speaker<'_>, condition: &Condition) -> String {
    Wording { speak }.of(condition).text
}

/// Words, and whether they run into what stands around them.
struct Worded {
    text: String,
    runs_on: bool,
}

impl Worded {
    fn closed(text: String) -> Self {
        Self { text, runs_on: false }
    }

    fn open(text: String) -> Self {
        Self { text, runs_on: true }
    }

    fn beside_others(self) -> String {
        if self.runs_on { format!("({})", self.text) } else { self.text }
    }
}

#[derive(Clone, Copy)]
struct Wording<'a> {
    speak: Speaker<'a>,
}

impl Wording<'_> {
    fn of(self, condition: &Condition) -> Worded {
        match condition {
            Condition::Always(_) => Worded::closed(String::new()),
            Condition::Not(inner) => self.not(inner),
            Condition::All(parts) => self.several(parts, |said| self.speak.all_of(said)),
            Condition::Any(parts) => self.several(parts, |said| self.speak.any_of(said)),
            Condition::Test(test) => self.test(test),
        }
    }

    fn several(self, parts: &[Condition], joined: impl Fn(&[String]) -> String) -> Worded {
        if let [only] = parts {
            return self.of(only);
        }
        let said: Vec<String> = parts.iter().map(|part| self.of(part).beside_others()).collect();
        Worded::open(joined(&said))
    }

    /// What a state is not, it is one of the others.
    fn not(self, inner: &Condition) -> Worded {
        if let Condition::Test(Test::Is { variable, values, .. }) = inner {
            let all = self.speak.graph.variable(*variable).values.len();
            let others: Vec<u8> =
                (0..=u8::MAX).take(all).filter(|value| !values.contains(value)).collect();
            if (1..=MOST_VALUES).contains(&others.len()) {
                return self.values(*variable, &others);
            }
        }
        let what = format!("({})", self.of(inner).text);
        Worded::closed(self.speak.say("condition-not", &[("what", what)]))
    }

    fn test(self, test: &Test) -> Worded {
        match test {
            Test::Within { value, limit, .. } => Worded::closed(self.within(value, limit)),
            Test::Is { variable, values, .. } => self.values(*variable, values),
            Test::Proved { variable, values, .. } => {
                let what = self.values(*variable, values).text;
                Worded::open(self.speak.say("condition-proved", &[("what", what)]))
            }
            Test::Held { variable, values, seconds, under, .. } => {
                let what = self.values(*variable, values).text;
                let key = if *under { "condition-under" } else { "condition-for" };
                let time = self.speak.exact_duration(seconds);
                Worded::open(self.speak.say(key, &[("what", what), ("time", time)]))
            }
        }
    }

    /// The limit stands in the unit in which the reading is read; what is worked out stays in its author's (see `as_written`).
    fn within(self, value: &Expression, limit: &Limit) -> String {
        let converted = as_written::read_alone(value, limit)
            .filter(|id| !self.speak.kept.contains(id) && self.is_converted(*id))
            .and_then(|id| as_written::asked(self.speak, id, limit));
        if let Some(limit) = converted {
            let what = said(self.speak, value);
            return self.speak.say("condition-within", &[("what", what), ("limit", limit)]);
        }
        let speak = Speaker { system: None, ..self.speak };
        let unit = match value {
            Expression::Reading(id) | Expression::Point(id, _) => {
                match &speak.graph.reading(*id).kind {
                    ReadingKind::Quantity { unit, .. } => Some(*unit),
                    ReadingKind::Answer { .. }
                    | ReadingKind::Serial
                    | ReadingKind::Date
                    | ReadingKind::Text => None,
                }
            }
            Expression::Value(_)
            | Expression::Fold(..)
            | Expression::Binary(..)
            | Expression::Negative(_)
            | Expression::LookUp(..) => None,
        };
        let limit = unit.map_or_else(|| limit.clone(), |unit| speak.beside(limit, unit));
        let what = said(speak, value);
        speak.say("condition-within", &[("what", what), ("limit", speak.limit(&limit))])
    }

    fn is_converted(self, id: ReadingId) -> bool {
        let ReadingKind::Quantity { unit, .. } = self.speak.graph.reading(id).kind else {
            return false;
        };
        self.speak.reader_unit(unit) != unit
    }

    fn values(self, variable: VariableId, values: &[u8]) -> Worded {
        let speak = self.speak;
        let declared = speak.graph.variable(variable);
        let text = match &declared.kind {
            VariableKind::Series => {
                let said =
                    values.iter().filter_map(|value| declared.values.get(usize::from(*value)));
                let said: Vec<String> = said.map(|value| value.words.said.clone()).collect();
                speak.say("condition-series", &[("series", speak.any_of(&said))])
            }
            VariableKind::Serial { stretches } => {
                let said = values.iter().filter_map(|value| stretches.get(usize::from(*value)));
                let said: Vec<String> =
                    said.map(|(from, to)| crate::head::serial_words(speak, *from, *to)).collect();
                speak.any_of(&said)
            }
            VariableKind::State
            | VariableKind::Element { .. }
            | VariableKind::Tool
            | VariableKind::Observation
            | VariableKind::Hold { .. }
            | VariableKind::Inspection { .. }
            | VariableKind::Unknown { .. }
            | VariableKind::Denied { .. }
            | VariableKind::DeniedTime { .. } => {
                let values: BTreeSet<u8> = values.iter().copied().collect();
                value_words(speak, variable, &values)
            }
        };
        Worded { text, runs_on: values.len() > 1 }
    }
}
