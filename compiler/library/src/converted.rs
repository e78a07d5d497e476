//! Tolerances that lose much of themselves where a sheet is printed in other units than they are written in.

use crate::findings::LostInUnits;
use locknut_finding::{Findings, Span};
use locknut_graph::{Stage, StepGraph, Tightening, Verdict};
use locknut_quantity::{Exact, Limit, System, Units, show_range, to_decimal};
use num_traits::{One, Signed};

/// So many percent of a tolerance may be lost unsaid.
const MOST_LOST: i64 = 10;

/// The limits of a procedure: what is accepted, and figures that an act gives for itself.
pub(crate) fn of_graph(graph: &StepGraph, units: &Units, systems: &[System]) -> Findings {
    let mut found = Findings::default();
    // What no sheet converts loses nothing.
    let kept = locknut_sheet::as_written(graph);
    for act in graph.flow.node_weights().filter_map(locknut_graph::Node::act) {
        let converted = act.kind.reading().is_none_or(|reading| !kept.contains(&reading));
        if let Some(Verdict::Accept { limit, computed: None }) =
            act.kind.verdict().filter(|_| converted)
        {
            told(&limit.limit, limit.span, units, systems, &mut found);
        }
        if let Some(tightening) = act.tightening.as_ref().filter(|one| one.own_figure) {
            stages(tightening, units, systems, &mut found);
        }
    }
    found
}

/// The figures that models give their fasteners.
pub(crate) fn of_tightenings(
    tightenings: &[Tightening],
    units: &Units,
    systems: &[System],
) -> Findings {
    let mut found = Findings::default();
    for tightening in tightenings {
        stages(tightening, units, systems, &mut found);
    }
    found
}

fn stages(of: &Tightening, units: &Units, systems: &[System], found: &mut Findings) {
    for stage in &of.stages {
        if let Stage::Torque(limit) = stage {
            told(limit, of.figure_at, units, systems, found);
        }
    }
}

/// Says so where a limit loses more than a tenth of its width in one of these systems.
fn told(limit: &Limit, span: Span, units: &Units, systems: &[System], found: &mut Findings) {
    let Some(width) = limit.range.width().filter(Signed::is_positive) else { return };
    for system in systems {
        let (Some(low), Some(high)) = show_range(units, limit, Some(*system)) else { return };
        let lost = Exact::one() - (high.value - low.value) / &width;
        let percent = lost * Exact::from_integer(100.into());
        if low.unit == limit.unit || percent <= Exact::from_integer(MOST_LOST.into()) {
            continue;
        }
        let unit = units.unit(low.unit).name.clone();
        found.add(&LostInUnits {
            limit: limit.written.clone(),
            span,
            printed: format!("{} .. {} {unit}", low.digits, high.digits),
            unit,
            lost: to_decimal(&percent, 0),
        });
    }
}
