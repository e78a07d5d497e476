//! What a reading has denied: where it shows that a state is not so, nothing counts on the state.
//!
//! The path may have made it so, and the reading says otherwise: which of them is right nobody knows there. That a
//! state is denied is a variable of its own, so that it goes wherever the job goes: round a repeat, into the lane
//! beside, past `done`. The state itself stays as it was made, or no job could stop where a proof has failed.

use super::acts::Proved;
use super::build::Ways;
use super::laying::Laying;
use locknut_finding::Span;
use locknut_graph::{
    Assertion, Because, Condition, Effect, Interlock, NodeId, NodeKind, Test, Value, Variable,
    VariableId, VariableKind, Words,
};
use std::collections::BTreeMap;

/// The value of a denied state's own variable while it is denied.
const DENIED: u8 = 1;

impl Laying<'_> {
    /// These ways deny what a reading was to prove.
    pub(super) fn deny(&mut self, proofs: &[Proved], ways: &mut Ways) {
        for proof in proofs {
            if let Some(denied) = self.denied_of(proof.variable) {
                ways.also(&Effect::Set { variable: denied, value: DENIED });
            }
        }
    }

    /// The variable that tells whether a state is denied.
    fn denied_of(&mut self, state: VariableId) -> Option<VariableId> {
        if let Some(known) = self.denied.get(&state) {
            return Some(*known);
        }
        let of = self.build.variables.get(usize::from(state.0))?;
        let value = |said: &str| Value { words: Words::of(said), span: of.span };
        let denied = Variable {
            words: Words::titled(
                &format!("{}-is-denied", of.words.name),
                &format!("what a reading says of {}", of.words.said),
            ),
            values: vec![value("not-denied"), value("denied")],
            normal: 0,
            kind: VariableKind::Denied { of: state },
            span: of.span,
        };
        let denied = self.build.add_variable(denied);
        self.denied.insert(state, denied);
        Some(denied)
    }

    /// Asks of whatever is done behind a denial that it hold whatever the denied state is; once all is laid.
    pub(super) fn doubt(&mut self) {
        let denied = std::mem::take(&mut self.denied);
        for (state, denied) in &denied {
            self.build.known_again(*state, *denied);
        }
        for (node, states) in self.build.behind(&denied) {
            let denied = denied.iter().filter(|(state, _)| states.contains(state));
            let here = self.asked_in_doubt(node, &denied.map(|(a, b)| (*a, *b)).collect());
            self.build.ask(node, here);
        }
    }

    /// What is asked of a node in doubt: all that it asks anyhow; that what it writes breaks no rule; and, where hands
    /// are at the machine and close nothing, that no rule is broken as it stands.
    fn asked_in_doubt(
        &self,
        node: NodeId,
        denied: &BTreeMap<VariableId, VariableId>,
    ) -> Vec<Assertion> {
        let Some(at) = self.build.flow.node_weight(node) else { return Vec::new() };
        let written: Vec<(VariableId, u8)> = at.effects.iter().filter_map(set).collect();
        let sets = |variable: &VariableId| written.iter().any(|(own, _)| own == variable);
        let denied: BTreeMap<_, _> =
            denied.iter().filter(|(state, _)| !sets(state)).map(|(a, b)| (*a, *b)).collect();
        let doubt = |condition: &Condition, written: &[(VariableId, u8)], said: String| {
            let states = in_doubt(condition, &denied);
            let believed = states.values().map(|own| is(*own, 0, at.span)).collect();
            let surely = Doubt { denied: &denied, written, at: at.span }.surely(condition, false);
            (!states.is_empty()).then(|| Assertion {
                condition: Condition::Any(vec![Condition::All(believed), not(condition), surely]),
                because: Because::Denied { states: states.into_iter().collect() },
                written: said,
                span: at.span,
            })
        };
        let asked = match &at.kind {
            NodeKind::Act(act) => &act.assertions,
            NodeKind::Enter { needs, .. } => needs,
            NodeKind::Pass
            | NodeKind::Branch(_)
            | NodeKind::AnyOrder { .. }
            | NodeKind::ChildDone { .. }
            | NodeKind::Together { .. }
            | NodeKind::LaneDone { .. }
            | NodeKind::Await(_)
            | NodeKind::Repeat(_)
            | NodeKind::Leave { .. }
            | NodeKind::End(_) => return Vec::new(),
        };
        let of_act = asked
            .iter()
            .filter(|one| !matches!(one.because, Because::MadeSo))
            .filter_map(|one| doubt(&one.condition, &[], one.written.clone()));
        let rules = || self.model.interlocks.iter();
        let writes = |rule: &Interlock| rule.holds.variables().iter().any(sets);
        let closes = rules().any(|rule| writes(rule) && !in_doubt(&rule.holds, &denied).is_empty());
        let handled = self.handled.contains(&node) && !closes;
        let of_rules = rules().filter(|rule| writes(rule) || handled).filter_map(|rule| {
            let written = if writes(rule) { &written[..] } else { &[] };
            doubt(&rule.holds, written, format!("never {}", rule.written))
        });
        of_act.chain(of_rules).collect()
    }
}

/// The states in doubt that a condition asks for, each with the variable that tells so.
fn in_doubt(
    condition: &Condition,
    denied: &BTreeMap<VariableId, VariableId>,
) -> BTreeMap<VariableId, VariableId> {
    let asked = condition.variables();
    denied.iter().filter(|(state, _)| asked.contains(state)).map(|(a, b)| (*a, *b)).collect()
}

fn set(effect: &Effect) -> Option<(VariableId, u8)> {
    if let Effect::Set { variable, value } = effect { Some((*variable, *value)) } else { None }
}

fn is(variable: VariableId, value: u8, span: Span) -> Condition {
    Condition::Test(Test::Is { variable, values: vec![value], span })
}

fn not(condition: &Condition) -> Condition {
    Condition::Not(Box::new(condition.clone()))
}

/// What denied states leave in doubt where some variables are just being written.
struct Doubt<'a> {
    denied: &'a BTreeMap<VariableId, VariableId>,
    written: &'a [(VariableId, u8)],
    at: Span,
}

impl Doubt<'_> {
    /// What must hold for the condition (or its contrary) to be so whatever the denied states are.
    fn surely(&self, condition: &Condition, contrary: bool) -> Condition {
        let all =
            |parts: &[Condition]| parts.iter().map(|part| self.surely(part, contrary)).collect();
        match condition {
            Condition::Always(is) => Condition::Always(*is != contrary),
            Condition::Test(test) => self.test(test, contrary),
            Condition::Not(inner) => self.surely(inner, !contrary),
            Condition::All(parts) if !contrary => Condition::All(all(parts)),
            Condition::Any(parts) if contrary => Condition::All(all(parts)),
            Condition::All(parts) | Condition::Any(parts) => Condition::Any(all(parts)),
        }
    }

    fn test(&self, test: &Test, contrary: bool) -> Condition {
        let plain = Condition::Test(test.clone());
        let so = if contrary { not(&plain) } else { plain };
        let Some(variable) = test.variable() else { return so };
        if let Some(own) = self.denied.get(&variable) {
            return Condition::All(vec![is(*own, 0, self.at), so]);
        }
        let set = self.written.iter().find(|(own, _)| *own == variable);
        match (test, set) {
            (Test::Is { values, .. }, Some((_, value))) => {
                Condition::Always(values.contains(value) != contrary)
            }
            // What was just written is not proved, and has not been so for any time.
            (Test::Proved { .. } | Test::Held { .. }, Some(_)) => Condition::Always(contrary),
            _ => so,
        }
    }
}
