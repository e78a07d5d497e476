//! Sums: calculations as an engineer signs them. What is given and where it comes from, by which formula, what
//! comes out, and what follows.
//!
//! A stage that reckons something returns its sums beside its findings, and both come of the same numbers. Every
//! number is exact or a bound that was rounded away from what it bounds; see [`Figure`].

mod bolts;
mod cases;
mod dress;
mod figure;
mod found;
mod joint;
mod limit;
mod load;
mod look_up;
mod passes;
mod shared;
mod torques;
mod unstated;
mod verdicts;
mod wrench;

pub use figure::Figure;
pub use found::figures_found;
pub(crate) use found::found;
pub use joint::Joint;
pub use load::{NotJudged, not_judged};
pub(crate) use shared::assumed as sharing_assumed;
pub use torques::{OwnFigure, own_figures, two_torques};

use locknut_finding::Span;
use locknut_graph::{NodeId, StepGraph};
use locknut_quantity::Units;
use std::collections::BTreeMap;

/// One calculation.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sum {
    /// What is reckoned: "torque of the cover bolts against the torque wrench".
    pub what: String,
    /// The act that it is for.
    pub span: Span,
    /// The numbers of the steps in which that act is done.
    pub steps: Vec<String>,
    /// What it begins with.
    pub given: Vec<Given>,
    /// What was worked out of that, each from what stands before it.
    pub worked: Vec<Worked>,
    /// What follows.
    pub judged: Vec<Judged>,
}

/// A figure that a sum begins with.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Given {
    /// As it stands in the formulas: `μ`.
    pub symbol: String,
    /// What it is: "friction of thread and head".
    pub what: String,
    /// How much.
    pub figure: Figure,
    /// Where it comes from, and how far that can be trusted: `VDI 2230-1 Table A5, class B`.
    pub source: String,
}

/// A figure that was worked out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Worked {
    /// As it stands in the formulas: `F`.
    pub symbol: String,
    /// What it is: "preload".
    pub what: String,
    /// The formula, in symbols.
    pub formula: String,
    /// The formula with the numbers in it.
    pub numbers: String,
    /// What came out.
    pub figure: Figure,
    /// Where the formula comes from.
    pub source: String,
}

/// What follows from a sum.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Judged {
    /// Whether it is as it should be.
    pub outcome: Outcome,
    /// The code of what is found where it is not.
    pub code: Option<&'static str>,
    /// In words, without a full stop.
    pub text: String,
}

/// How a judgement came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// It is as it should be.
    Holds,
    /// It is not.
    Fails,
    /// It was not judged, and the text says why.
    Open,
}

/// The sums of a procedure, in the order of its steps.
pub(crate) fn of(graph: &StepGraph, units: &Units) -> Vec<Sum> {
    let mut sums: Vec<Sum> = Vec::new();
    // A subtask that is called twice is laid twice: its act is reckoned once.
    let mut at: BTreeMap<(Span, String), usize> = BTreeMap::new();
    for node in graph.flow.node_indices() {
        for sum in of_node(graph, units, node) {
            let key = (sum.span, sum.what.clone());
            if let Some(known) = at.get(&key).and_then(|at| sums.get_mut(*at)) {
                known.steps.extend(sum.steps);
                known.steps.dedup();
            } else {
                at.insert(key, sums.len());
                sums.push(sum);
            }
        }
    }
    sums
}

fn of_node(graph: &StepGraph, units: &Units, node: NodeId) -> Vec<Sum> {
    let node = graph.node(node);
    let Some(act) = node.act() else { return Vec::new() };
    let mut sums: Vec<Sum> = bolts::sum(graph, units, act, node.span).into_iter().collect();
    sums.extend(limit::sums(graph, units, act, node.span));
    sums.extend(look_up::sums(units, act, node.span));
    let step = node.step.map(|step| graph.step(step).number.clone());
    for sum in &mut sums {
        sum.steps.extend(step.clone());
    }
    sums
}
