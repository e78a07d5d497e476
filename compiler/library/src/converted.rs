//! Tolerances that lose much of themselves where a sheet is printed in other units than they are written in.

use crate::findings::LostInUnits;
use locknut_finding::{Findings, Span};
use locknut_graph::{Stage, StepGraph, Tightening, Verdict};
use locknut_quantity::{Exact, Limit, Shown, System, Units, show_range, to_decimal};
use num_traits::{One, Signed};

/// So many percent of a tolerance may be lost unsaid.
const MOST_LOST: i64 = 10;
/// So many digits more are proposed at most.
const MOST_DIGITS_MORE: u32 = 2;

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
        let percent = lost(&width, &low, &high);
        if low.unit == limit.unit || percent <= most_lost() {
            continue;
        }
        let unit = units.unit(low.unit).name.clone();
        found.add(&LostInUnits {
            limit: limit.written.clone(),
            span,
            printed: format!("{} .. {} {unit}", low.digits, high.digits),
            unit,
            lost: to_decimal(&percent, 0),
            finer: finer(limit, &width, units, *system),
        });
    }
}

fn most_lost() -> Exact {
    Exact::from_integer(MOST_LOST.into())
}

/// Which part of its width is lost, in percent.
fn lost(width: &Exact, low: &Shown, high: &Shown) -> Exact {
    (Exact::one() - (&high.value - &low.value) / width) * Exact::from_integer(100.into())
}

/// The limit with the fewest digits more with which no more than that is lost.
fn finer(limit: &Limit, width: &Exact, units: &Units, system: System) -> Option<String> {
    (1..=MOST_DIGITS_MORE).find_map(|more| {
        let decimals = limit.decimals + more;
        let finer = Limit { decimals, ..limit.clone() };
        let (Some(low), Some(high)) = show_range(units, &finer, Some(system)) else { return None };
        (lost(width, &low, &high) <= most_lost()).then(|| written(&finer, units))?
    })
}

/// `9.0 ± 1.0 N·m` of what was written with `±`, `8.0 .. 10.0 N·m` else.
fn written(limit: &Limit, units: &Units) -> Option<String> {
    let unit = units.unit(limit.unit);
    let (lower, upper) = (limit.range.lower.as_ref()?, limit.range.upper.as_ref()?);
    let (low, high) = (unit.number_of(&lower.value), unit.number_of(&upper.value));
    let two = Exact::from_integer(2.into());
    let said = |number: &Exact| to_decimal(number, limit.decimals);
    let numbers = if limit.written.contains('±') {
        format!("{} ± {}", said(&((&low + &high) / &two)), said(&((high - low) / two)))
    } else {
        format!("{} .. {}", said(&low), said(&high))
    };
    let word =
        units.kind(limit.kind).qualifier.iter().filter(|word| limit.written.ends_with(*word));
    Some(word.fold(format!("{numbers} {}", unit.name), |said, word| format!("{said} {word}")))
}
