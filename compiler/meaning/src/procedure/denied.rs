//! What a reading has just denied: on the way where it shows that a state is not so, nothing counts on the state.
//!
//! The path may have made it so, and the reading says otherwise: which of them is right nobody knows there.

use super::acts::Proved;
use super::laying::Laying;
use locknut_graph::{Assertion, Because, Condition, Effect, Test, VariableId, Words};

impl Laying<'_> {
    /// Begins what follows where a reading denies what it was to prove; gives what was denied before.
    pub(super) fn deny(&mut self, proofs: &[Proved]) -> Vec<VariableId> {
        let before = self.denied.clone();
        self.denied.extend(proofs.iter().map(|proof| proof.variable));
        before
    }

    /// What was set, or proved after all, counts again.
    pub(super) fn no_more_denied(&mut self, again: impl Fn(VariableId) -> bool) {
        self.denied.retain(|variable| !again(*variable));
    }

    /// What an act asks, and what must never come to be by what it writes: it must be so whatever the denied states are.
    pub(super) fn without_denied(
        &self,
        asked: &[Assertion],
        effects: &[Effect],
        act: locknut_finding::Span,
    ) -> Vec<Assertion> {
        let written: Vec<(VariableId, u8)> = effects.iter().filter_map(set).collect();
        let sets = |variable: VariableId| written.iter().any(|(own, _)| *own == variable);
        let denied: Vec<VariableId> =
            self.denied.iter().copied().filter(|variable| !sets(*variable)).collect();
        let Some(state) = denied.first().and_then(|first| self.words_of(*first)) else {
            return Vec::new();
        };
        let again = |condition: &Condition, written: &[(VariableId, u8)], said: &str| {
            let doubt = Doubt { denied: &denied, written };
            let condition = doubt.surely(condition, false);
            (condition != Condition::Always(true)).then(|| Assertion {
                condition,
                because: Because::Denied { state: state.clone() },
                written: said.to_owned(),
                span: act,
            })
        };
        let of_act = asked
            .iter()
            .filter(|one| !matches!(one.because, Because::MadeSo))
            .filter(|one| mentions(&one.condition, &denied))
            .filter_map(|one| again(&one.condition, &[], &one.written));
        let by_writing = self
            .model
            .interlocks
            .iter()
            .filter(|rule| mentions(&rule.holds, &denied))
            .filter(|rule| written.iter().any(|(own, _)| mentions(&rule.holds, &[*own])))
            .filter_map(|rule| again(&rule.holds, &written, &format!("never {}", rule.written)));
        of_act.chain(by_writing).collect()
    }

    fn words_of(&self, variable: VariableId) -> Option<Words> {
        self.build.variables.get(usize::from(variable.0)).map(|declared| declared.words.clone())
    }
}

fn set(effect: &Effect) -> Option<(VariableId, u8)> {
    if let Effect::Set { variable, value } = effect { Some((*variable, *value)) } else { None }
}

fn variable_of(test: &Test) -> Option<VariableId> {
    match test {
        Test::Is { variable, .. } | Test::Proved { variable, .. } | Test::Held { variable, .. } => {
            Some(*variable)
        }
        Test::Within { .. } => None,
    }
}

fn mentions(condition: &Condition, any: &[VariableId]) -> bool {
    match condition {
        Condition::Always(_) => false,
        Condition::Test(test) => variable_of(test).is_some_and(|variable| any.contains(&variable)),
        Condition::Not(inner) => mentions(inner, any),
        Condition::All(parts) | Condition::Any(parts) => {
            parts.iter().any(|part| mentions(part, any))
        }
    }
}

struct Doubt<'a> {
    denied: &'a [VariableId],
    written: &'a [(VariableId, u8)],
}

impl Doubt<'_> {
    /// What must hold for the condition (or its contrary) to be so whatever the denied states are.
    fn surely(&self, condition: &Condition, contrary: bool) -> Condition {
        match condition {
            Condition::Always(is) => Condition::Always(*is != contrary),
            Condition::Test(test) => self.test(test, contrary),
            Condition::Not(inner) => self.surely(inner, !contrary),
            Condition::All(parts) | Condition::Any(parts) => {
                let all = matches!(condition, Condition::All(_)) != contrary;
                let mut left = Vec::new();
                for part in parts.iter().map(|part| self.surely(part, contrary)) {
                    if part == Condition::Always(!all) {
                        return part;
                    }
                    if part != Condition::Always(all) {
                        left.push(part);
                    }
                }
                match (all, left.is_empty()) {
                    (all, true) => Condition::Always(all),
                    (true, false) => Condition::All(left),
                    (false, false) => Condition::Any(left),
                }
            }
        }
    }

    fn test(&self, test: &Test, contrary: bool) -> Condition {
        let variable = variable_of(test);
        if variable.is_some_and(|variable| self.denied.contains(&variable)) {
            return Condition::Always(false);
        }
        let set =
            variable.and_then(|variable| self.written.iter().find(|(own, _)| *own == variable));
        match (test, set) {
            (Test::Is { values, .. }, Some((_, value))) => {
                Condition::Always(values.contains(value) != contrary)
            }
            // What was just written is not proved, and has not been so for any time.
            (Test::Proved { .. } | Test::Held { .. }, Some(_)) => Condition::Always(contrary),
            _ if contrary => Condition::Not(Box::new(Condition::Test(test.clone()))),
            _ => Condition::Test(test.clone()),
        }
    }
}
