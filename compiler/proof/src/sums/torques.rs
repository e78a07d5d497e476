//! Figures that acts give for themselves, held against each other over a whole library.

use crate::hardware::TwoTorques;
use locknut_finding::{Findings, Span};
use locknut_graph::{Stage, StepGraph, Tightening};
use locknut_quantity::Bound;
use std::collections::BTreeMap;

/// A figure that an act gives where the model gives none, without a reason of its own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OwnFigure {
    /// The line of the act.
    pub act: Span,
    /// Where the fasteners are declared.
    pub declared: Span,
    /// As they are said.
    pub thing: String,
    /// What its stages come to in base units: the same for the same figure, however it is written.
    pub comes_to: String,
    /// As its stages are written.
    pub written: String,
}

/// Every such figure of a procedure.
pub fn own_figures(graph: &StepGraph) -> Vec<OwnFigure> {
    let acts = graph.flow.node_weights().filter_map(|node| node.act());
    let own = |of: &&Tightening| of.own_figure && of.because.is_none();
    acts.filter_map(|act| {
        let of = act.tightening.as_deref().filter(own)?;
        Some(OwnFigure {
            act: act.line.span,
            declared: of.declared,
            thing: of.thing.said.clone(),
            comes_to: comes_to(&of.stages),
            written: said(&of.stages),
        })
    })
    .collect()
}

/// Fasteners that are tightened to one figure here and to another there.
pub fn two_torques<'a>(all: impl IntoIterator<Item = &'a OwnFigure>) -> Findings {
    let mut found = Findings::default();
    let mut all: Vec<&OwnFigure> = all.into_iter().collect();
    all.sort_by_key(|one| one.act);
    let mut first: BTreeMap<Span, &OwnFigure> = BTreeMap::new();
    for one in all {
        let before = *first.entry(one.declared).or_insert(one);
        if before.comes_to != one.comes_to {
            found.add(&TwoTorques {
                act: one.act,
                thing: one.thing.clone(),
                written: one.written.clone(),
                other: before.act,
                other_written: before.written.clone(),
            });
        }
    }
    found
}

fn comes_to(stages: &[Stage]) -> String {
    let end = |bound: &Option<Bound>| match bound {
        Some(bound) => format!("{} {}", bound.value, bound.closed),
        None => String::new(),
    };
    let one = |stage: &Stage| {
        let (what, limit) = match stage {
            Stage::Torque(limit) => ("torque", limit),
            Stage::Angle(limit) => ("angle", limit),
        };
        format!("{what} {} .. {}", end(&limit.range.lower), end(&limit.range.upper))
    };
    stages.iter().map(one).collect::<Vec<_>>().join(", ")
}

fn said(stages: &[Stage]) -> String {
    let one = |stage: &Stage| match stage {
        Stage::Torque(limit) => limit.written.clone(),
        Stage::Angle(limit) => format!("turned {}", limit.written),
    };
    stages.iter().map(one).collect::<Vec<_>>().join(", then ")
}
