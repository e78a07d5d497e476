//! What is found by the sums of tightenings.

use super::cases::{Cases, cases, stretch};
use super::dress::Dress;
use super::load::{self, Load};
use super::{verdicts, wrench};
use crate::hardware::{
    FigureYields, JointOpens, MayYield, NutTakesAll, PassDoesNothing, StretchedAgain, TooLoose,
    WhyNothing, WrenchTooCoarse,
};
use locknut_finding::{Findings, Span};
use locknut_graph::{Carries, Instrument, Pull, StepGraph, Tightening};
use locknut_quantity::{Exact, Rounding, Units};
use num_traits::Signed;
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
        if nut_takes_all(of, None, of.figure_at, units, &mut found) {
            continue;
        }
        let cases = cases(of, None).ok();
        if !cases.is_some_and(|cases| yields(of, &cases, units, &mut found)) {
            idle(of, None, of.figure_at, units, &mut found);
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
    too_coarse(of, wrench, act, found);
    let cases = cases(of, wrench);
    opens(of, wrench, cases.as_ref(), act, units, found);
    // A figure of the model is told once, where the model says it.
    let of_figure = load::all_taken(of, None).is_some();
    if of_figure && !of.own_figure
        || nut_takes_all(of, wrench, if of_figure { of.figure_at } else { act }, units, found)
    {
        return;
    }
    let yielding = cases.as_ref().is_ok_and(Cases::yields);
    // A pass of the model, too, is told once, where the model says it.
    let of_figure = of.idle_pass().is_some() || load::pass_taken(of, None).is_some();
    if !yielding && (of.own_figure || !of_figure) {
        idle(of, wrench, if of_figure { of.figure_at } else { act }, units, found);
    }
    let Ok(cases) = cases else { return };
    if yielding {
        if of.own_figure {
            yields(of, &cases, units, found);
        }
        return;
    }
    let Some(dress) = Dress::of(units, cases.thread, cases.torque.unit) else { return };
    if cases.may_yield() {
        may_yield(of, (&cases, wrench), act, units, found);
    }
    if let Some(share) = cases.share_held(of).filter(|_| cases.too_loose(of)) {
        let turned = cases.turned_on(of).filter(|_| of.angle().is_some());
        let nut = Some(&cases.least.prevailing).filter(|nut| nut.is_positive());
        found.add(&TooLoose {
            act,
            thing: of.thing.said.clone(),
            torque: dress.torque(&cases.least.torque, Rounding::Down).said(),
            friction: cases.friction_of(&cases.least, dress),
            preload: dress.force(&cases.least.preload, Rounding::Down).said(),
            dry: cases.friction.said == "dry",
            measured: cases.friction.said == "measured",
            causes: causes(&cases, wrench),
            turned: turned.map(|by| dress.force(&by, Rounding::Up).said()),
            nut: nut.map(|nut| dress.torque(nut, Rounding::Up).said()),
            share: Dress::percent(&share, Rounding::Down).said(),
            least: Dress::percent(&of.least, Rounding::Up).said(),
            declared: of.declared,
            fastener: fastener(&cases),
        });
    }
    stretched(of, &cases, act, dress, found);
}

/// What the load along them does. Of a figure that yields, or of which the nut takes all, no preload is told.
fn opens(
    of: &Tightening,
    wrench: Option<&Instrument>,
    cases: Result<&Cases<'_>, &Vec<&'static str>>,
    act: Span,
    units: &Units,
    found: &mut Findings,
) {
    let (Some(carries), Some(judged)) = (&of.carries, load::load(of, cases)) else { return };
    let Some(dress) = Dress::untorqued(units, of.thread.as_ref()) else { return };
    let beyond = matches!(judged, Load::BeyondProof(_));
    let holds = match (judged, cases) {
        (Load::BeyondProof(proof), _) => {
            let proof = dress.force(&proof, Rounding::Down).said();
            format!("however they are tightened, they are proved with {proof}")
        }
        (Load::Opens, Ok(cases)) if !cases.yields() && load::all_taken(of, wrench).is_none() => {
            let torque = dress.with_torque(cases.torque.unit);
            format!(
                "{} may leave only {}",
                torque.torque(&cases.least.torque, Rounding::Down).said(),
                dress.force(&cases.slackest(of).unwrap_or_default(), Rounding::Down).said()
            )
        }
        (Load::Opens | Load::Held | Load::Open(_), _) => return,
    };
    found.add(&JointOpens {
        act,
        thing: of.thing.said.clone(),
        holds,
        beyond,
        load: dress.force(&carries.share.all(), Rounding::Up).said(),
        whole: whole(carries),
        declared: of.declared,
        fastener: of_kind(of),
        dry: of.friction.as_ref().is_some_and(|friction| friction.said == "dry"),
    });
}

/// `40 kN shared evenly`, and to whom it comes; none where each of them is said to bear the load.
fn whole(carries: &Carries) -> Option<(String, &'static str)> {
    let tips = carries.load.tips();
    let each = matches!(carries.load.pull, Pull::Each(_)) && !tips;
    let to = if tips { "the one that bears most" } else { "each of them" };
    (!each).then(|| (carries.load.written.clone(), to))
}

/// Tells it at the figure, or at the act where only the error of its wrench makes it so.
fn nut_takes_all(
    of: &Tightening,
    wrench: Option<&Instrument>,
    at: Span,
    units: &Units,
    found: &mut Findings,
) -> bool {
    let Some(taken) = load::all_taken(of, wrench) else { return false };
    let Some(dress) = Dress::untorqued(units, of.thread.as_ref()) else { return false };
    let dress = dress.with_torque(taken.torque.unit);
    let greatest = dress.torque(&taken.nut.greatest, Rounding::Up).said();
    found.add(&NutTakesAll {
        at,
        figure: taken.torque.written.clone(),
        thing: of.thing.said.clone(),
        least: dress.torque(&taken.least, Rounding::Down).said(),
        with: wrench.filter(|_| taken.by_wrench).map(|wrench| wrench.words.said.clone()),
        greatest,
        declared: of.declared,
    });
    true
}

fn may_yield(
    of: &Tightening,
    (cases, wrench): (&Cases<'_>, Option<&Instrument>),
    act: Span,
    units: &Units,
    found: &mut Findings,
) {
    let Some(dress) = Dress::of(units, cases.thread, cases.torque.unit) else { return };
    found.add(&MayYield {
        act,
        thing: of.thing.said.clone(),
        torque: dress.torque(&cases.worst.torque, Rounding::Up).said(),
        friction: cases.friction_of(&cases.worst, dress),
        stress: dress.stress(&cases.worst.stress.high(), Rounding::Up).said(),
        limit: dress.stress(&cases.strength.limit, Rounding::Down).said(),
        declared: of.declared,
        fastener: fastener(cases),
        measured: cases.friction.said == "measured",
        causes: causes(cases, wrench),
    });
}

/// What of the figure and the wrench spreads the torque so far that it is worth a look.
fn causes(cases: &Cases<'_>, wrench: Option<&Instrument>) -> Vec<String> {
    let Some((figure, by)) = wrench::middle(cases.torque).filter(|(of, _)| of.is_positive()) else {
        return Vec::new();
    };
    let wide = Exact::new(1.into(), 4.into());
    let share = &by / &figure;
    let tolerance = (share > wide).then(|| {
        let share = Dress::percent(&share, Rounding::Nearest).said();
        format!("look the tolerance up again: it is {share} of the figure, either way")
    });
    let error = wrench.and_then(|one| Some((one, one.error.as_ref()?)));
    let coarse = error.filter(|(_, error)| error.at(&figure) / &figure > wide);
    let coarse = coarse.map(|(one, error)| {
        format!("look up the error of the {} again: {}", one.words.said, error.written)
    });
    tolerance.into_iter().chain(coarse).collect()
}

/// Of several passes the last that the wrench cannot keep.
fn too_coarse(of: &Tightening, wrench: Option<&Instrument>, act: Span, found: &mut Findings) {
    let Some(wrench) = wrench else { return };
    let Some(error) = &wrench.error else { return };
    let passes = of.passes().into_iter().rev();
    let mut missed = passes.filter(|pass| wrench::keeps(pass, wrench) == Some(false));
    if let Some(pass) = missed.next() {
        found.add(&WrenchTooCoarse {
            act,
            figure: pass.written.clone(),
            wrench: wrench.words.said.clone(),
            error: error.written.clone(),
            declared: wrench.span,
            step: wrench::missed_by_its_steps(pass, wrench),
        });
    }
}

/// A pass that is below one ahead of it, or that the nut may take all of.
fn idle(
    of: &Tightening,
    wrench: Option<&Instrument>,
    at: Span,
    units: &Units,
    found: &mut Findings,
) {
    let thing = of.thing.said.clone();
    if let Some((pass, before)) = of.idle_pass() {
        let why = WhyNothing::Below { before: before.written.clone() };
        found.add(&PassDoesNothing { at: of.figure_at, thing, pass: pass.written.clone(), why });
        return;
    }
    let Some(taken) = load::pass_taken(of, wrench) else { return };
    let Some(dress) = Dress::untorqued(units, of.thread.as_ref()) else { return };
    let dress = dress.with_torque(taken.torque.unit);
    let why = WhyNothing::Taken {
        greatest: dress.torque(&taken.nut.greatest, Rounding::Up).said(),
        least: dress.torque(&taken.least, Rounding::Down).said(),
        with: wrench.filter(|_| taken.by_wrench).map(|wrench| wrench.words.said.clone()),
        declared: of.declared,
    };
    found.add(&PassDoesNothing { at, thing, pass: taken.torque.written.clone(), why });
}

/// Says whether it did.
fn yields(of: &Tightening, cases: &Cases<'_>, units: &Units, found: &mut Findings) -> bool {
    let dress = Dress::of(units, cases.thread, cases.torque.unit);
    let Some(dress) = dress.filter(|_| cases.yields()) else { return false };
    let (above, below) = USUAL_SHARE;
    let share = Exact::new(above.into(), below.into());
    let bears = cases.torque_at(&share, &cases.meant.friction);
    found.add(&FigureYields {
        at: of.figure_at,
        figure: cases.torque.written.clone(),
        thing: of.thing.said.clone(),
        fastener: fastener(cases),
        friction: cases.friction_of(&cases.meant, dress),
        stress: dress.stress(&cases.meant.stress.high(), Rounding::Up).said(),
        limit: dress.stress(&cases.strength.limit, Rounding::Down).said(),
        bears: bears.map(|torque| dress.torque(&torque, Rounding::Down).said()),
    });
    true
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
        strain: verdicts::thousandths(dress, &stretch.strain.high(), Rounding::Up),
        friction: stretch.friction_said(dress),
        limit: verdicts::thousandths(dress, &stretch.elastic, Rounding::Down),
        declared: of.declared,
    });
}

/// `M12 of class 10.9, oiled`
fn fastener(cases: &Cases<'_>) -> String {
    format!("{} of class {}, {}", cases.thread.name, cases.strength.name, cases.friction.said)
}

/// The same of what is known.
fn of_kind(of: &Tightening) -> String {
    let thread = of.thread.as_ref().map(|thread| thread.name.clone());
    let class = of.strength.as_ref().map(|strength| format!("of class {}", strength.name));
    let friction = of.friction.as_ref().map(|friction| friction.said.clone());
    let fastener: Vec<String> = thread.into_iter().chain(class).collect();
    [fastener.join(" ")].into_iter().chain(friction).collect::<Vec<_>>().join(", ")
}
