//! What is found by the sums of tightenings.

use super::cases::{Cases, cases, stretch};
use super::dress::Dress;
use super::{bolts, wrench};
use crate::hardware::{
    FigureYields, JointOpens, MayYield, StretchedAgain, TooLoose, WrenchTooCoarse,
};
use locknut_finding::{Findings, Span};
use locknut_graph::{Instrument, StepGraph, Tightening};
use locknut_quantity::{Exact, Rounding, Units};
use std::collections::BTreeSet;

/// The share of the yield stress to which tables of tightening torques go (ν of VDI 2230-1).
const USUAL_SHARE: (u32, u32) = (9, 10);

/// What is wrong with the tightenings of a procedure.
pub(crate) fn found(graph: &StepGraph, units: &Units, found: &mut Findings) {
    let mut seen = BTreeSet::new();
    for node in graph.flow.node_weights() {
        let Some(act) = node.act() else { continue };
        let Some(of) = &act.tightening else { continue };
        let wrench = act.instrument.and_then(|wrench| graph.instruments.get(wrench));
        if seen.insert((act.line.span, of.thing.name.clone())) {
            one(of, wrench, act.line.span, units, found);
        }
    }
}

/// What is wrong with the figures that models give, whoever tightens to them.
pub fn figures_found(all: &[Tightening], units: &Units) -> Findings {
    let mut found = Findings::default();
    for of in all {
        for pass in of.higher_passes().iter().chain([of]) {
            if let Ok(cases) = cases(pass, None) {
                yields(pass, &cases, units, &mut found);
            }
        }
    }
    found
}

fn one(
    of: &Tightening,
    wrench: Option<&Instrument>,
    act: Span,
    units: &Units,
    found: &mut Findings,
) {
    for pass in of.higher_passes() {
        let Ok(cases) = cases(&pass, wrench) else { continue };
        if cases.yields() && pass.own_figure {
            yields(&pass, &cases, units, found);
        } else if cases.may_yield() && !cases.yields() {
            may_yield(&pass, &cases, act, units, found);
        }
    }
    too_coarse(of, wrench, act, found);
    let Ok(cases) = cases(of, wrench) else { return };
    if cases.yields() {
        // A figure of the model is told once, where the model says it.
        if of.own_figure {
            yields(of, &cases, units, found);
        }
        return;
    }
    let Some(dress) = Dress::of(units, cases.thread, cases.torque.unit) else { return };
    if cases.may_yield() {
        may_yield(of, &cases, act, units, found);
    }
    if of.angle().is_none() && cases.share_held() < of.least {
        found.add(&TooLoose {
            act,
            thing: of.thing.said.clone(),
            torque: dress.torque(&cases.least.torque, Rounding::Down).said(),
            friction: dress.plain(&cases.least.friction).said(),
            preload: dress.force(&cases.least.preload, Rounding::Down).said(),
            share: Dress::percent(&cases.share_held(), Rounding::Down).said(),
            least: Dress::percent(&of.least, Rounding::Nearest).said(),
            declared: of.declared,
            fastener: fastener(&cases),
        });
    }
    opens(of, &cases, act, dress, found);
    stretched(of, &cases, act, dress, found);
}

/// What an angle adds is not modelled, so nothing is claimed of it.
fn opens(of: &Tightening, cases: &Cases<'_>, act: Span, dress: Dress<'_>, found: &mut Findings) {
    let Some(load) = &of.carries else { return };
    if of.angle().is_some() || cases.stays_shut(load) {
        return;
    }
    found.add(&JointOpens {
        act,
        thing: of.thing.said.clone(),
        torque: dress.torque(&cases.least.torque, Rounding::Down).said(),
        preload: dress.force(&cases.least.preload, Rounding::Down).said(),
        load: dress.force(load, Rounding::Up).said(),
        declared: of.declared,
        fastener: fastener(cases),
    });
}

fn may_yield(of: &Tightening, cases: &Cases<'_>, act: Span, units: &Units, found: &mut Findings) {
    let Some(dress) = Dress::of(units, cases.thread, cases.torque.unit) else { return };
    found.add(&MayYield {
        act,
        thing: of.thing.said.clone(),
        torque: dress.torque(&cases.worst.torque, Rounding::Up).said(),
        friction: dress.plain(&cases.worst.friction).said(),
        stress: dress.stress(&cases.worst.stress.high(), Rounding::Up).said(),
        limit: dress.stress(&cases.strength.limit, Rounding::Nearest).said(),
        declared: of.declared,
        fastener: fastener(cases),
        measured: cases.friction.said == "measured",
    });
}

fn too_coarse(of: &Tightening, wrench: Option<&Instrument>, act: Span, found: &mut Findings) {
    let (Some(torque), Some(wrench)) = (of.torque(), wrench) else { return };
    let Some(error) = &wrench.error else { return };
    if wrench::keeps(torque, wrench) == Some(false) {
        found.add(&WrenchTooCoarse {
            act,
            figure: torque.written.clone(),
            wrench: wrench.words.said.clone(),
            error: error.written.clone(),
            declared: wrench.span,
        });
    }
}

fn yields(of: &Tightening, cases: &Cases<'_>, units: &Units, found: &mut Findings) {
    let Some(dress) = Dress::of(units, cases.thread, cases.torque.unit) else { return };
    if !cases.yields() {
        return;
    }
    let (above, below) = USUAL_SHARE;
    let share = Exact::new(above.into(), below.into());
    let bears = cases.torque_at(&share, &cases.meant.friction);
    found.add(&FigureYields {
        at: of.figure_at,
        figure: cases.torque.written.clone(),
        thing: of.thing.said.clone(),
        fastener: fastener(cases),
        friction: dress.plain(&cases.meant.friction).said(),
        stress: dress.stress(&cases.meant.stress.high(), Rounding::Up).said(),
        limit: dress.stress(&cases.strength.limit, Rounding::Nearest).said(),
        bears: bears.map(|torque| dress.torque(&torque, Rounding::Down).said()),
    });
}

fn stretched(
    of: &Tightening,
    cases: &Cases<'_>,
    act: Span,
    dress: Dress<'_>,
    found: &mut Findings,
) {
    let Some(stretch) = stretch(of, cases) else { return };
    if of.single_use || stretch.strain.high() <= stretch.elastic {
        return;
    }
    found.add(&StretchedAgain {
        act,
        thing: of.thing.said.clone(),
        strain: bolts::thousandths(dress, &stretch.strain.high(), Rounding::Up),
        limit: bolts::thousandths(dress, &stretch.elastic, Rounding::Down),
        declared: of.declared,
    });
}

/// `M12 of class 10.9, oiled`
fn fastener(cases: &Cases<'_>) -> String {
    format!("{} of class {}, {}", cases.thread.name, cases.strength.name, cases.friction.said)
}
