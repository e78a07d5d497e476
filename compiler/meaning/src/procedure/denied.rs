//! What a reading has denied: where it shows that a state is not so, nothing counts on the state.
//!
//! The path may have made it so, and the reading says otherwise: which of them is right nobody knows there. That a
//! state is denied is a variable of its own, so that it goes wherever the job goes: round a repeat, into the lane
//! beside, past `done`. The state itself stays as it was made, or no job could stop where a proof has failed.

use super::acts::Proved;
use super::build::{Ways, settles};
use super::laying::Laying;
use locknut_finding::Span;
use locknut_graph::{
    Assertion, Because, Condition, Effect, End, Interlock, Node, NodeId, NodeKind, Restore, Test,
    Value, Variable, VariableId, VariableKind, Words,
};
use std::collections::{BTreeMap, BTreeSet};

/// The value of a denied state's own variable while it is denied.
pub(super) const DENIED: u8 = 1;

/// What denied states leave in doubt.
#[derive(Default)]
pub(super) struct Doubts {
    /// What is asked besides, at which nodes.
    pub(super) asked: Vec<(NodeId, Assertion)>,
    /// Where the machine is left, and the denied states by which alone it would be safe: nobody can ask for more.
    pub(super) left: Vec<(NodeId, VariableId)>,
}

/// States that may be denied, each with the variable that tells so.
type Own = BTreeMap<VariableId, VariableId>;

/// What is in doubt at a node.
#[derive(Default)]
struct Denied {
    /// Until it is set or proved.
    now: Own,
    /// For how long it has been so: until it is set.
    for_long: Own,
}

impl Denied {
    /// The variable that tells whether what a test asks for is denied.
    fn own(&self, test: &Test) -> Option<VariableId> {
        let of = test.variable()?;
        let for_long = self.for_long.get(&of).filter(|_| matches!(test, Test::Held { .. }));
        for_long.or_else(|| self.now.get(&of)).copied()
    }

    /// The states in doubt that a condition asks for, each with all that tell so.
    fn of(&self, condition: &Condition) -> BTreeSet<(VariableId, VariableId)> {
        let tests = condition.tests();
        tests.into_iter().filter_map(|test| Some((test.variable()?, self.own(test)?))).collect()
    }
}

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
        let denied = self.declare(state, "is-denied", VariableKind::Denied { of: state })?;
        self.denied.insert(state, denied);
        Some(denied)
    }

    fn declare(&mut self, state: VariableId, name: &str, kind: VariableKind) -> Option<VariableId> {
        let of = self.build.variables.get(usize::from(state.0))?;
        let value = |said: &str| Value { words: Words::of(said), span: of.span };
        let words = Words::titled(
            &format!("{}-{name}", of.words.name),
            &format!("what a reading says of {}", of.words.said),
        );
        let values = vec![value("not-denied"), value("denied")];
        let span = of.span;
        Some(self.build.add_variable(Variable { words, values, normal: 0, kind, span }))
    }

    /// For how long a denied state has been so counts from where it is set anew, and from no proof: a variable of its own
    /// tells that, where something asks for a time at all.
    fn denied_for_long(&mut self, denied: &Own) -> Own {
        let mut all = Own::new();
        for (state, now) in denied {
            if self.asks_for_long(*state)
                && let Some(own) =
                    self.declare(*state, "was-denied", VariableKind::DeniedTime { of: *state })
            {
                self.build.also_denied(*now, own);
                all.insert(*state, own);
            }
        }
        all
    }

    fn asks_for_long(&self, state: VariableId) -> bool {
        let asks = |condition: &Condition| {
            let held =
                |test: &&Test| matches!(test, Test::Held { variable, .. } if *variable == state);
            condition.tests().iter().any(held)
        };
        let asked = |node: &Node| asked_of(node).iter().any(|one| asks(&one.condition));
        self.model.interlocks.iter().any(|rule| asks(&rule.holds))
            || asks(&self.model.safe_to_leave.0)
            || self.build.flow.node_weights().any(asked)
    }

    /// Asks of whatever is done behind a denial that it hold whatever the denied state is; once all is laid.
    pub(super) fn doubt(&mut self, restore: &[Restore]) -> Doubts {
        let denied = std::mem::take(&mut self.denied);
        let for_long = self.denied_for_long(&denied);
        for (state, own) in &denied {
            self.build.known_again(*own, |effect| settles(effect, *state));
        }
        for (state, own) in &for_long {
            self.build.known_again(*own, |effect| effect.sets(*state).is_some());
        }
        let mut behind: BTreeMap<NodeId, Denied> = BTreeMap::new();
        for (state, own) in denied {
            for node in self.build.behind(own) {
                behind.entry(node).or_default().now.insert(state, own);
            }
        }
        for (state, own) in for_long {
            for node in self.build.behind(own) {
                behind.entry(node).or_default().for_long.insert(state, own);
            }
        }
        let mut doubts = Doubts::default();
        for (node, denied) in behind {
            let alone = self.left_by_them_alone(node, &denied).into_iter();
            doubts.left.extend(alone.map(|state| (node, state)));
            let asked = self.asked_in_doubt(node, denied, restore).into_iter();
            doubts.asked.extend(asked.map(|one| (node, one)));
        }
        doubts
    }

    /// The denied states by which alone the machine would be safe where it is left at a node.
    fn left_by_them_alone(&self, node: NodeId, denied: &Denied) -> BTreeSet<VariableId> {
        let left = self.build.flow.node_weight(node).is_some_and(|at| match &at.kind {
            NodeKind::End(End::Stop { .. } | End::Refer { .. }) => true,
            NodeKind::Act(act) => act.waits_undecided().is_some(),
            NodeKind::End(End::Done)
            | NodeKind::Pass
            | NodeKind::Branch(_)
            | NodeKind::AnyOrder { .. }
            | NodeKind::ChildDone { .. }
            | NodeKind::Together { .. }
            | NodeKind::LaneDone { .. }
            | NodeKind::Await(_)
            | NodeKind::Repeat(_)
            | NodeKind::Enter { .. }
            | NodeKind::Leave { .. } => false,
        });
        let (condition, _) = &self.model.safe_to_leave;
        if !left || self.by_hand_alone(condition) {
            return BTreeSet::new();
        }
        denied.of(condition).into_iter().map(|(state, _)| state).collect()
    }

    /// What is asked of a node in doubt: all that it asks anyhow; that what it writes breaks no rule; and, where hands
    /// are at the machine and close nothing, that no rule is broken as it stands.
    fn asked_in_doubt(
        &self,
        node: NodeId,
        mut denied: Denied,
        restore: &[Restore],
    ) -> Vec<Assertion> {
        let Some(at) = self.build.flow.node_weight(node) else { return Vec::new() };
        let written: Vec<(VariableId, u8)> = at.effects.iter().filter_map(set).collect();
        let sets = |variable: &VariableId| written.iter().any(|(own, _)| own == variable);
        denied.now.retain(|state, _| !sets(state));
        denied.for_long.retain(|state, _| !sets(state));
        let doubt = |condition: &Condition, written: &[(VariableId, u8)], said: String| {
            let surely = Doubt { denied: &denied, written, at: at.span }.surely(condition, false);
            self.in_doubt(condition, &denied, vec![not(condition), surely], (said, at.span))
        };
        let known = |condition: &Condition, said: String| {
            self.in_doubt(condition, &denied, Vec::new(), (said, at.span))
        };
        let owed = |owed: &[Restore]| {
            let is = |one: &Restore| {
                let said = self.state_said(one.variable, &one.values);
                let mut known = known(&one.condition(), said)?;
                known.span = one.span;
                Some(known)
            };
            owed.iter().filter_map(is).collect()
        };
        match &at.kind {
            NodeKind::Act(_) | NodeKind::Enter { .. } => {}
            // By which way it goes on nobody knows there, whoever looks.
            NodeKind::Branch(condition) | NodeKind::Await(condition) => {
                let asked = denied.of(condition);
                let said: Vec<String> =
                    asked.iter().filter_map(|(of, _)| Some(self.words_of(*of)?.said)).collect();
                let said = format!("it is known how {} stands", said.join(" and "));
                return known(condition, said).into_iter().collect();
            }
            NodeKind::Leave { leaves, .. } => return owed(leaves),
            NodeKind::End(End::Done) => return owed(restore),
            NodeKind::End(End::Stop { .. } | End::Refer { .. }) => {
                let (condition, _) = &self.model.safe_to_leave;
                let surely =
                    Doubt { denied: &denied, written: &[], at: at.span }.surely(condition, false);
                // Where no hands could make it safe, whatever the denied state is, no author could mend it.
                let other = self.by_hand_alone(condition);
                let said = "the machine is safe to leave even so".to_owned();
                let parts = vec![not(condition), surely];
                return other
                    .then(|| self.in_doubt(condition, &denied, parts, (said, at.span)))
                    .flatten()
                    .into_iter()
                    .collect();
            }
            NodeKind::Pass
            | NodeKind::AnyOrder { .. }
            | NodeKind::ChildDone { .. }
            | NodeKind::Together { .. }
            | NodeKind::LaneDone { .. }
            | NodeKind::Repeat(_) => return Vec::new(),
        }
        let of_act = asked_of(at)
            .iter()
            .filter(|one| !matches!(one.because, Because::MadeSo))
            .filter_map(|one| doubt(&one.condition, &[], one.written.clone()));
        let rules = || self.model.interlocks.iter();
        let writes = |rule: &Interlock| rule.holds.variables().iter().any(sets);
        // Whatever it puts back for the sake of a state, it need not wait for that state.
        let closes: BTreeSet<_> =
            rules().filter(|rule| writes(rule)).flat_map(|rule| denied.of(&rule.holds)).collect();
        let handles = self.handled.contains(&node);
        let judged = |rule: &&Interlock| {
            writes(rule) || handles && !denied.of(&rule.holds).is_subset(&closes)
        };
        let of_rules = rules().filter(judged).filter_map(|rule| {
            let written = if writes(rule) { &written[..] } else { &[] };
            doubt(&rule.holds, written, format!("never {}", rule.written))
        });
        of_act.chain(of_rules).collect()
    }

    /// That the states which a condition asks for are not denied, or one of these is so besides. What starts unknown, and
    /// nothing has set, has any of its values anyhow.
    fn in_doubt(
        &self,
        condition: &Condition,
        denied: &Denied,
        mut or: Vec<Condition>,
        (written, span): (String, Span),
    ) -> Option<Assertion> {
        let states = denied.of(condition);
        let believed = |(state, own): &(VariableId, VariableId)| {
            let mut known = vec![is(*own, 0, span)];
            known.extend(self.unknown_of(*state).map(|unknown| is(unknown, 1, span)));
            Condition::Any(known)
        };
        or.insert(0, Condition::All(states.iter().map(believed).collect()));
        (!states.is_empty()).then(|| Assertion {
            condition: Condition::Any(or),
            because: Because::Denied { states: states.into_iter().collect() },
            written,
            span,
        })
    }

    /// Whether a condition may hold by what hands put in its place, with none of the denied states as it asks.
    fn by_hand_alone(&self, condition: &Condition) -> bool {
        match condition {
            Condition::Always(is) => *is,
            Condition::Test(test) => {
                let of = test.variable().and_then(|id| self.build.variables.get(usize::from(id.0)));
                of.is_some_and(|of| matches!(of.kind, VariableKind::Element { .. }))
            }
            Condition::Not(inner) => self.by_hand_alone(inner),
            Condition::All(parts) => parts.iter().all(|part| self.by_hand_alone(part)),
            Condition::Any(parts) => parts.iter().any(|part| self.by_hand_alone(part)),
        }
    }

    fn unknown_of(&self, state: VariableId) -> Option<VariableId> {
        let unknown = |(_, one): &(u16, &Variable)| one.kind == VariableKind::Unknown { of: state };
        let (id, _) = (0u16..).zip(&self.build.variables).find(unknown)?;
        Some(VariableId(id))
    }

    fn words_of(&self, state: VariableId) -> Option<Words> {
        self.build.variables.get(usize::from(state.0)).map(|of| of.words.clone())
    }

    /// `mains is isolated`
    fn state_said(&self, state: VariableId, values: &[u8]) -> String {
        let Some(of) = self.build.variables.get(usize::from(state.0)) else { return String::new() };
        let said = values.iter().filter_map(|value| of.values.get(usize::from(*value)));
        let said: Vec<&str> = said.map(|value| value.words.said.as_str()).collect();
        format!("{} is {}", of.words.said, said.join(" or "))
    }
}

/// What an act or the beginning of a subtask asks.
fn asked_of(node: &Node) -> &[Assertion] {
    if let NodeKind::Act(act) = &node.kind {
        &act.assertions
    } else if let NodeKind::Enter { needs, .. } = &node.kind {
        needs
    } else {
        &[]
    }
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
    denied: &'a Denied,
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
        if let Some(own) = self.denied.own(test) {
            return Condition::All(vec![is(own, 0, self.at), so]);
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
