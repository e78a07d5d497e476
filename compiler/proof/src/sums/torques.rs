//! Figures that acts give for themselves, held against each other over a whole library.

use crate::hardware::TwoTorques;
use locknut_finding::{Findings, Span};
use locknut_graph::{Stage, StepGraph, Tightening};
use std::collections::BTreeMap;

/// A figure that an act gives where the model gives none, without a reason of its own.
#[derive(Clone, Debug)]
pub struct OwnFigure {
    act: Span,
    declared: Span,
    thing: String,
    stages: Vec<Stage>,
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
            stages: of.stages.clone(),
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
        if !same(&before.stages, &one.stages) {
            found.add(&TwoTorques {
                act: one.act,
                thing: one.thing.clone(),
                written: said(&one.stages),
                other: before.act,
                other_written: said(&before.stages),
            });
        }
    }
    found
}

fn same(one: &[Stage], other: &[Stage]) -> bool {
    one.len() == other.len()
        && one.iter().zip(other).all(|pair| match pair {
            (Stage::Torque(one), Stage::Torque(other))
            | (Stage::Angle(one), Stage::Angle(other)) => one.range == other.range,
            (Stage::Torque(_), Stage::Angle(_)) | (Stage::Angle(_), Stage::Torque(_)) => false,
        })
}

fn said(stages: &[Stage]) -> String {
    let one = |stage: &Stage| match stage {
        Stage::Torque(limit) => limit.written.clone(),
        Stage::Angle(limit) => format!("turned {}", limit.written),
    };
    stages.iter().map(one).collect::<Vec<_>>().join(", then ")
}
