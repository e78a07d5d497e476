//! A state: where the job stands, and what is watched.

use super::Slice;
use super::hold::{Times, Waited};
use locknut_graph::{
    Condition, Effect, Marking, NodeKind, ReadingId, StepGraph, Test, VariableId, Way,
};
use std::collections::{BTreeMap, BTreeSet};

/// Where the job stands, and the values of what is watched.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct State {
    pub(crate) marking: Marking,
    pub(crate) values: BTreeMap<VariableId, u8>,
    pub(crate) proved: BTreeSet<VariableId>,
    pub(crate) times: Times,
    pub(crate) taken: BTreeSet<ReadingId>,
    pub(crate) found: BTreeMap<(u16, VariableId), u8>,
    /// A bit for whoever explores: hazards use it.
    pub(crate) flag: bool,
}

/// Whether a condition holds; none where it depends on what is not watched.
pub(crate) type Truth = Option<bool>;

impl State {
    /// The states that a job may start in.
    pub(crate) fn starts(graph: &StepGraph, slice: &Slice) -> Vec<Self> {
        let mut starts = vec![Self {
            marking: Marking::start(graph),
            values: BTreeMap::new(),
            proved: graph
                .starts_proved
                .iter()
                .copied()
                .filter(|id| slice.proved.contains(id))
                .collect(),
            times: slice.held.keys().map(|id| (*id, Waited::none())).collect(),
            taken: BTreeSet::new(),
            found: BTreeMap::new(),
            flag: false,
        }];
        for (variable, seconds) in &graph.starts_held {
            if let (Some(most), Some(start)) = (slice.held.get(variable), starts.first_mut()) {
                start.times.insert(*variable, Waited::for_so_long(seconds, most));
            }
        }
        for variable in &slice.values {
            let declared = graph
                .starts
                .iter()
                .find(|(id, _)| id == variable)
                .map(|(_, values)| values.clone());
            let values = declared.unwrap_or_else(|| vec![graph.variable(*variable).normal]);
            starts = starts
                .into_iter()
                .flat_map(|start| {
                    values.iter().map(move |value| {
                        let mut start = start.clone();
                        start.values.insert(*variable, *value);
                        start
                    })
                })
                .collect();
        }
        starts
    }

    /// The state after a way.
    pub(crate) fn after(&self, graph: &StepGraph, slice: &Slice, way: Way) -> Option<Self> {
        let marking = self.marking.take(graph, way)?;
        let at = self.marking.at;
        let (edge, _) = graph.follow(at, way)?;
        let mut next = Self { marking, ..self.clone() };
        next.pass(graph, slice, at);
        for effect in graph.node(at).effects.iter().chain(&edge.effects) {
            next.bring_about(slice, effect);
        }
        Some(next)
    }

    /// Calls remember how things were found, and forget it when they end.
    fn pass(&mut self, graph: &StepGraph, slice: &Slice, at: locknut_graph::NodeId) {
        match &graph.node(at).kind {
            NodeKind::Enter { call, .. } => {
                for (owed, variable) in slice.found.iter().filter(|(owed, _)| owed == call) {
                    if let Some(value) = self.values.get(variable) {
                        self.found.insert((*owed, *variable), *value);
                    }
                }
            }
            NodeKind::Leave { call, .. } => self.found.retain(|(owed, _), _| owed != call),
            NodeKind::Act(_)
            | NodeKind::Pass
            | NodeKind::Branch(_)
            | NodeKind::AnyOrder { .. }
            | NodeKind::ChildDone { .. }
            | NodeKind::Repeat(_)
            | NodeKind::End(_) => {}
        }
    }

    fn bring_about(&mut self, slice: &Slice, effect: &Effect) {
        match effect {
            Effect::Set { variable, value } => {
                if slice.values.contains(variable) {
                    self.values.insert(*variable, *value);
                }
                self.proved.remove(variable);
                if let Some(time) = self.times.get_mut(variable) {
                    time.write();
                }
            }
            Effect::Prove { variable } => {
                if slice.proved.contains(variable) {
                    self.proved.insert(*variable);
                }
            }
            Effect::Wait { seconds } => {
                for (variable, time) in &mut self.times {
                    if let Some(most) = slice.held.get(variable) {
                        time.wait(seconds, most);
                    }
                }
            }
            Effect::WaitSince { seconds, step } => {
                for (variable, time) in &mut self.times {
                    if let Some(most) = slice.held.get(variable) {
                        time.wait_since(seconds, *step, most);
                    }
                }
            }
            Effect::StepEnds { step } => {
                self.times.values_mut().for_each(|time| time.step_ends(*step));
            }
            Effect::Take { reading } => {
                if slice.readings.contains(reading) {
                    self.taken.insert(*reading);
                }
            }
            Effect::Void { readings, proofs } => {
                for reading in readings {
                    self.taken.remove(reading);
                }
                for variable in proofs {
                    self.proved.remove(variable);
                }
            }
            Effect::Afresh { .. } => {}
        }
    }

    /// Whether a condition holds here.
    pub(crate) fn holds(&self, condition: &Condition) -> Truth {
        match condition {
            Condition::Always(so) => Some(*so),
            Condition::Not(inner) => self.holds(inner).map(|so| !so),
            Condition::All(parts) => self.several(parts, false),
            Condition::Any(parts) => self.several(parts, true),
            Condition::Test(test) => self.passes(test),
        }
    }

    /// `wanted` decides at once; else it is decided only where every part is.
    fn several(&self, parts: &[Condition], wanted: bool) -> Truth {
        let mut all_known = true;
        for part in parts {
            match self.holds(part) {
                Some(so) if so == wanted => return Some(wanted),
                Some(_) => {}
                None => all_known = false,
            }
        }
        all_known.then_some(!wanted)
    }

    fn passes(&self, test: &Test) -> Truth {
        match test {
            Test::Is { variable, values, .. } => self.has(*variable, values),
            Test::Proved { variable, values, .. } => {
                Some(self.has(*variable, values)? && self.proved.contains(variable))
            }
            Test::Held { variable, values, seconds, under, .. } => {
                let long = self.times.get(variable)?.seconds >= *seconds;
                Some(self.has(*variable, values)? && long != *under)
            }
            Test::Within { .. } => None,
        }
    }

    fn has(&self, variable: VariableId, values: &[u8]) -> Truth {
        self.values.get(&variable).map(|value| values.contains(value))
    }
}
