//! Clock times: where a wait or a time that must have passed is reckoned from, and what it is held against.

use crate::places::value_words;
use crate::sheet::Block;
use crate::words::Speaker;
use locknut_graph::{
    Act, ActKind, Condition, Effect, Moment, NodeId, NodeKind, StepId, Test, VariableId,
};
use std::collections::{BTreeMap, BTreeSet};

/// From what times are reckoned in a procedure.
#[derive(Debug, Default)]
pub(crate) struct Clocks {
    /// Steps since whose end some line waits.
    step_ends: BTreeSet<StepId>,
    /// Values of which some `when` asks how long they have stood.
    stood: BTreeMap<VariableId, BTreeSet<u8>>,
}

impl Clocks {
    pub(crate) fn of(speak: Speaker<'_>) -> Self {
        let mut clocks = Self::default();
        for node in speak.graph.flow.node_weights() {
            match &node.kind {
                NodeKind::Branch(condition) => clocks.asked(condition),
                NodeKind::Act(act) => clocks.step_ends.extend(since(act)),
                NodeKind::Pass
                | NodeKind::AnyOrder { .. }
                | NodeKind::ChildDone { .. }
                | NodeKind::Together { .. }
                | NodeKind::LaneDone { .. }
                | NodeKind::Await(_)
                | NodeKind::Repeat(_)
                | NodeKind::Enter { .. }
                | NodeKind::Leave { .. }
                | NodeKind::End(_) => {}
            }
        }
        clocks
    }

    fn asked(&mut self, condition: &Condition) {
        for test in condition.tests() {
            if let Test::Held { variable, values, .. } = test {
                self.stood.entry(*variable).or_default().extend(values);
            }
        }
    }

    /// Behind the last line of a step since whose end somebody waits.
    pub(crate) fn at_step_end(&self, speak: Speaker<'_>, step: StepId) -> Option<Block> {
        let number = speak.graph.step(step).number.clone();
        let said = || vec![speak.say("clock-step-ended", &[("step", number)])];
        self.step_ends.contains(&step).then(said).map(fields)
    }

    /// Behind a line: the time at which a state came to stand as some `when` asks, or the times of a wait.
    pub(crate) fn at_line(&self, speak: Speaker<'_>, node: NodeId) -> Option<Block> {
        let waits = speak.graph.node(node).act().and_then(since);
        let ways = speak.graph.ways(node).into_iter().flat_map(|(_, edge, _)| &edge.effects);
        let effects = speak.graph.node(node).effects.iter().chain(ways);
        let begun: BTreeSet<(VariableId, u8)> =
            effects.filter_map(|one| self.begins(one)).collect();
        let begun = begun.into_iter().map(|(variable, value)| {
            let what = value_words(speak, variable, &BTreeSet::from([value]));
            Speaker::sentence(&speak.say("clock-since", &[("what", what)]))
        });
        let mut said: Vec<String> = begun.collect();
        if waits.is_some() {
            said.extend(["clock-started", "clock-not-before"].map(|key| speak.phrases.label(key)));
        }
        (!said.is_empty()).then(|| fields(said))
    }

    fn begins(&self, effect: &Effect) -> Option<(VariableId, u8)> {
        let Effect::Set { variable, value } = effect else { return None };
        self.stood.get(variable)?.contains(value).then_some((*variable, *value))
    }
}

/// Ahead of a `when` that asks whether a time has passed: the reader goes by the clock, a program by the waits.
pub(crate) fn at_branch(speak: Speaker<'_>, condition: &Condition) -> Option<Block> {
    let held = condition.tests().into_iter().filter_map(|test| match test {
        Test::Held { under, .. } => Some(*under),
        Test::Is { .. } | Test::Proved { .. } | Test::Within { .. } => None,
    });
    let under: BTreeSet<bool> = held.collect();
    if under.is_empty() {
        return None;
    }
    let ends =
        under.iter().map(|under| if *under { "clock-only-before" } else { "clock-not-before" });
    let said = std::iter::once("clock-started").chain(ends);
    Some(Block::Clock {
        fields: said.map(|key| speak.phrases.label(key)).collect(),
        in_programs: Some(speak.phrases.label("timed-by-waits")),
    })
}

fn fields(fields: Vec<String>) -> Block {
    Block::Clock { fields, in_programs: None }
}

/// The step since whose end an act waits.
fn since(act: &Act) -> Option<StepId> {
    match &act.kind {
        ActKind::Wait { since: Some(Moment::StepEnd(step)), .. } => Some(*step),
        ActKind::Wait { .. }
        | ActKind::Do
        | ActKind::Confirm
        | ActKind::Measure { .. }
        | ActKind::Count { .. }
        | ActKind::Observe { .. }
        | ActKind::Record { .. }
        | ActKind::Check { .. }
        | ActKind::Choose(_) => None,
    }
}
