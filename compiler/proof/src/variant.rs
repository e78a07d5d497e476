//! Which machines a way is for: all that its branches ask of series and serial number, told as one.

use crate::decided::told;
use crate::leave::holds;
use locknut_graph::{Condition, NodeId, NodeKind, StepGraph, VariableId, VariableKind, Way};
use std::collections::{BTreeMap, BTreeSet};

/// So many kinds of machines are gone through.
const MOST: usize = 4096;

/// What the branches of a way leave of the machines that there are.
pub(crate) struct Machines {
    asked: BTreeSet<VariableId>,
    words: Option<String>,
}

impl Machines {
    /// None: no branch asks, or what is left cannot be said of series and serial number apart.
    pub(crate) fn on(graph: &StepGraph, trail: &[(NodeId, Way)]) -> Option<Self> {
        let decided: Vec<(&Condition, bool)> =
            trail.iter().filter_map(|(node, way)| decision(graph, *node, *way)).collect();
        let asked: BTreeSet<VariableId> =
            decided.iter().flat_map(|(condition, _)| condition.variables()).collect();
        let mut all: Vec<BTreeMap<VariableId, u8>> = vec![BTreeMap::new()];
        for variable in &asked {
            let values = possible(graph, *variable);
            if all.len().saturating_mul(values.len()) > MOST {
                return None;
            }
            let with = |one: &BTreeMap<VariableId, u8>| {
                let one = one.clone();
                values
                    .iter()
                    .map(move |value| {
                        let mut more = one.clone();
                        more.insert(*variable, *value);
                        more
                    })
                    .collect::<Vec<_>>()
            };
            all = all.iter().flat_map(with).collect();
        }
        all.retain(|one| decided.iter().all(|(asks, so)| holds(asks, one) == Some(*so)));
        let left = |variable: &VariableId| -> BTreeSet<u8> {
            all.iter().filter_map(|one| one.get(variable).copied()).collect()
        };
        let apart = asked.iter().map(|variable| left(variable).len()).product::<usize>();
        if asked.is_empty() || apart != all.len() {
            return None;
        }
        let narrowed = asked.iter().filter_map(|variable| {
            let left: Vec<u8> = left(variable).into_iter().collect();
            (left != possible(graph, *variable)).then(|| told(graph, *variable, &left))
        });
        let words =
            Some(narrowed.collect::<Vec<_>>().join(" and ")).filter(|said| !said.is_empty());
        Some(Self { asked, words })
    }

    /// Whether a branch asks of the machine alone.
    pub(crate) fn decide(&self, graph: &StepGraph, node: NodeId, way: Way) -> bool {
        decision(graph, node, way).is_some_and(|(asks, _)| asks.variables().is_subset(&self.asked))
    }

    /// What they are, said once.
    pub(crate) fn said_once(&mut self) -> Option<String> {
        self.words.take()
    }
}

fn decision(graph: &StepGraph, node: NodeId, way: Way) -> Option<(&Condition, bool)> {
    let (NodeKind::Branch(condition), Way::Arm(arm)) = (&graph.node(node).kind, way) else {
        return None;
    };
    let tests = condition.tests();
    let of_machine = |variable: VariableId| {
        matches!(graph.variable(variable).kind, VariableKind::Series | VariableKind::Serial { .. })
    };
    let all = !tests.is_empty() && tests.iter().all(|test| test.variable().is_some_and(of_machine));
    all.then_some((condition, arm == 0))
}

/// The values that the procedure is for.
fn possible(graph: &StepGraph, variable: VariableId) -> Vec<u8> {
    let starts = graph.starts.iter().find(|(id, _)| *id == variable);
    let all = || (0u8..).zip(&graph.variable(variable).values).map(|(value, _)| value).collect();
    let mut values: Vec<u8> = starts.map_or_else(all, |(_, values)| values.clone());
    values.sort_unstable();
    values
}
