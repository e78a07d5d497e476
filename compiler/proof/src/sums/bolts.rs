//! The sum of a tightening: from torque, wrench and friction to the preload and the stress.

use super::cases::{Case, Cases, cases, stretch};
use super::dress::Dress;
use super::verdicts::{beside, judged, nut_takes, open, thousandths_of};
use super::{Figure, Given, Sum, Worked, load, passes, shared};
use locknut_finding::Span;
use locknut_graph::{Act, Friction, Instrument, StepGraph, Tightening};
use locknut_quantity::{Exact, Rounding, Units};

const VDI: &str = "VDI 2230-1, from public descriptions of it";

/// The sum of an act that tightens to a torque.
pub(super) fn sum(graph: &StepGraph, units: &Units, act: &Act, span: Span) -> Option<Sum> {
    let of = act.tightening.as_ref()?;
    let wrench = act.instrument.and_then(|wrench| graph.instruments.get(wrench));
    let Some(torque) = of.torque() else { return untorqued(of, units, span) };
    let mut sum = Sum {
        what: format!("{} tightened to {}", of.thing.said, passes::written(of)),
        span,
        steps: Vec::new(),
        given: figure(units, of, wrench),
        worked: Vec::new(),
        judged: passes::of_wrench(of, wrench),
    };
    match cases(of, wrench) {
        Ok(cases) => {
            if let Some(dress) = Dress::of(units, cases.thread, torque.unit) {
                sum.given.extend(given(of, &cases, dress));
                sum.worked = worked(&cases, of.passes().len() > 1, dress);
                sum.worked.extend(shared::worked(of, dress));
                sum.given.extend(given_of_angle(of, &cases, dress));
                sum.worked.extend(strain(of, &cases, dress));
                sum.judged.extend(nut_takes(of, wrench, dress));
                sum.judged.extend(passes::ahead(of, wrench, dress));
                sum.judged.extend(judged(of, &cases, dress));
            }
        }
        Err(lacks) => {
            sum.judged.push(open(&format!(
                "preload and stress are not reckoned: {}",
                load::declared(&lacks)
            )));
            let dress = Dress::untorqued(units, of.thread.as_ref())?.with_torque(torque.unit);
            sum.given.extend(given_of_nut(of, dress));
            sum.judged.extend(nut_takes(of, wrench, dress));
            sum.given.extend(shared::given(of, dress));
            sum.worked.extend(shared::worked(of, dress));
            sum.judged.extend(beside(of, Err(&lacks), dress));
        }
    }
    Some(sum)
}

/// The sum of an act that tightens to no torque, where something is declared that would rest on one.
fn untorqued(of: &Tightening, units: &Units, span: Span) -> Option<Sum> {
    let lacks = cases(of, None).err()?;
    let dress = Dress::untorqued(units, of.thread.as_ref())?;
    let judged = beside(of, Err(&lacks), dress);
    let given = shared::given(of, dress);
    let worked = shared::worked(of, dress).into_iter().collect();
    let what = format!("{} tightened to no torque", of.thing.said);
    let sum = Sum { what, span, steps: Vec::new(), given, worked, judged };
    (!sum.judged.is_empty()).then_some(sum)
}

fn figure(units: &Units, tightening: &Tightening, wrench: Option<&Instrument>) -> Vec<Given> {
    let mut all = Vec::new();
    let passes = tightening.passes();
    for (at, torque) in passes.iter().enumerate() {
        if let Some(figure) = Figure::of_limit(units, torque) {
            let (symbol, what) = match passes.len() {
                1 => ("T".to_owned(), "figure with its tolerance".to_owned()),
                _ => (format!("T{}", at + 1), format!("pass {}, with its tolerance", at + 1)),
            };
            all.push(of(&symbol, &what, figure, format!("as written: {}", torque.written)));
        }
    }
    if let Some((wrench, error)) = wrench.and_then(|one| Some((one, one.error.as_ref()?))) {
        let figure =
            Figure { numbers: vec![error.written.clone()], unit: String::new(), rounded: false };
        all.push(of(
            "e",
            &format!("greatest error of the {}", wrench.words.said),
            figure,
            "as declared".to_owned(),
        ));
    }
    all
}

fn of(symbol: &str, what: &str, figure: Figure, source: String) -> Given {
    Given { symbol: symbol.to_owned(), what: what.to_owned(), figure, source }
}

fn given(tightening: &Tightening, cases: &Cases<'_>, dress: Dress<'_>) -> Vec<Given> {
    let (thread, strength, friction) = (cases.thread, cases.strength, cases.friction);
    let name = |what: &str| format!("{what} of {}", thread.name);
    let mut all = vec![
        of("d", &name("nominal diameter"), dress.length(&thread.diameter), thread.source.clone()),
        of("P", &name("pitch"), dress.length(&thread.pitch), thread.source.clone()),
    ];
    if let Some(head) = &tightening.head {
        let face = "outer diameter of the face under the head";
        all.push(of("dw", face, dress.length(&head.bearing), head.source.clone()));
        all.push(of("dh", "hole under the head", dress.length(&head.hole), head.source.clone()));
    }
    let range_of = |one: &Friction| {
        let mut range = dress.plain(&one.least);
        range.numbers.extend(dress.plain(&one.greatest).numbers);
        range
    };
    let range = range_of(friction);
    if let Some(head) = &tightening.head_friction {
        let what = format!("friction under the head, {}", head.said);
        all.push(of("μK", &what, range_of(head), head.source.clone()));
    }
    all.extend(shared::given(tightening, dress));
    all.extend(given_of_nut(tightening, dress));
    let class = |what: &str| format!("{what} of class {}", strength.name);
    all.extend([
        of("μ", &format!("friction, {}", friction.said), range, friction.source.clone()),
        of(
            "Rp",
            &class("yield stress"),
            dress.stress(&strength.limit, Rounding::Down),
            strength.source.clone(),
        ),
        of(
            "Sp",
            &class("proof stress"),
            dress.stress(&strength.proof, Rounding::Down),
            strength.source.clone(),
        ),
    ]);
    all
}

fn given_of_nut(tightening: &Tightening, dress: Dress<'_>) -> Option<Given> {
    let nut = tightening.prevailing.as_ref()?;
    let mut torque = dress.torque(&nut.least, Rounding::Down);
    let upper = dress.torque(&nut.greatest, Rounding::Up);
    torque.rounded |= upper.rounded;
    torque.numbers.extend(upper.numbers);
    Some(of("M", "prevailing torque of the self-locking nut", torque, nut.source.clone()))
}

/// What the stretch by an angle begins with; nothing where it is not reckoned.
fn given_of_angle(tightening: &Tightening, cases: &Cases<'_>, dress: Dress<'_>) -> Vec<Given> {
    let (Some(angle), Some(clamps)) = (tightening.angle(), &tightening.clamps) else {
        return Vec::new();
    };
    let Some(modulus) = &cases.strength.modulus else { return Vec::new() };
    let turned =
        Figure { numbers: vec![angle.written.clone()], unit: String::new(), rounded: false };
    let steel = "modulus of elasticity of steel";
    vec![
        of("A", "angle turned on", turned, "as written".to_owned()),
        of(
            "L",
            "length clamped",
            dress.declared_length(clamps),
            "as declared with them".to_owned(),
        ),
        of(
            "E",
            steel,
            dress.stress(modulus, Rounding::Down),
            "common practice, from memory".to_owned(),
        ),
    ]
}

/// The stretch at most: of the torque, and of the angle as if the parts gave nothing; and that at which they yield.
fn strain(tightening: &Tightening, cases: &Cases<'_>, dress: Dress<'_>) -> Vec<Worked> {
    let (Some(stretch), Some(angle), Some(clamps), Some(modulus)) = (
        stretch(tightening, cases),
        tightening.angle(),
        &tightening.clamps,
        &cases.strength.modulus,
    ) else {
        return Vec::new();
    };
    let friction = stretch.friction_said(dress);
    let thousandths = |strain: &Exact, rounding: Rounding| Figure {
        unit: "‰".to_owned(),
        rounded: true,
        ..thousandths_of(dress, strain, rounding)
    };
    let twisted = dress.number(&stretch.twisted.high(), Rounding::Up).said();
    let limit = dress.stress(&cases.strength.limit, Rounding::Down).said();
    let before = dress.force(&stretch.before, Rounding::Up).said();
    let modulus = dress.stress(modulus, Rounding::Down).said();
    let area = dress.area(&cases.joint.area.low()).said();
    let several = angle.written.contains(" + ");
    let turned = if several { format!("({})", angle.written) } else { angle.written.clone() };
    let (pitch, clamps) =
        (dress.length(&cases.joint.pitch).said(), dress.declared_length(clamps).said());
    vec![
        Worked {
            symbol: "ε".to_owned(),
            what: format!(
                "stretch, if the parts gave nothing, where it comes nearest to yielding: at friction {friction}{}",
                stretch.of_piece()
            ),
            formula: "F / (As E) + P A / (360° L)".to_owned(),
            numbers: format!(
                "{before} / ({area} × {modulus}) + {pitch} × {turned} / (360° × {clamps})"
            ),
            figure: thousandths(&stretch.strain.high(), Rounding::Up),
            source: "Hooke's law, and the advance of the thread".to_owned(),
        },
        Worked {
            symbol: "εy".to_owned(),
            what: format!("stretch at which they yield, still twisted, at friction {friction}"),
            formula: "Rp / (E · σ As/F)".to_owned(),
            numbers: format!("{limit} / ({modulus} × {twisted})"),
            figure: thousandths(&stretch.elastic, Rounding::Down),
            source: format!("{VDI}; Hooke's law"),
        },
    ]
}

fn worked(cases: &Cases<'_>, several: bool, dress: Dress<'_>) -> Vec<Worked> {
    let Cases { joint, thread, .. } = cases;
    let (stress, area, pitch_source) = if thread.unified {
        ("d − 0.9743 P", "ASME B1.1", "ASME B1.1")
    } else {
        ("d − 0.938194 P", "ISO 898-1", "ISO 724")
    };
    let line = |symbol: &str, what: &str, formula: &str, figure: Figure, source: &str| Worked {
        symbol: symbol.to_owned(),
        what: what.to_owned(),
        formula: formula.to_owned(),
        numbers: String::new(),
        figure,
        source: source.to_owned(),
    };
    let mut all = vec![
        line(
            "d2",
            "pitch diameter",
            "d − 0.649519 P",
            dress.length(&joint.pitch_diameter),
            pitch_source,
        ),
        line(
            "dS",
            "diameter of the stress area",
            stress,
            dress.length(&joint.stress_diameter),
            area,
        ),
        line("As", "stress area", "π/4 dS²", dress.area(&joint.area.low()), area),
        line(
            "DKm",
            "mean diameter under the head",
            "(dw + dh)/2",
            dress.length(&joint.head_diameter),
            VDI,
        ),
    ];
    let mut brought = dress.torque(&cases.least.torque, Rounding::Down);
    let upper = dress.torque(&cases.most.torque, Rounding::Up);
    brought.rounded |= upper.rounded;
    brought.numbers.extend(upper.numbers);
    let (set, by) = if several {
        (
            "torque that the passes may leave: of each end the greatest, as none undoes another",
            "greatest of each T ± e",
        )
    } else {
        ("torque that the wrench may bring, set anywhere in the tolerance", "T ± e")
    };
    all.push(line("T′", set, by, brought, "common practice"));
    let middle = if several { "greatest middle of a T" } else { "middle of T" };
    for (case, which, torque, rounding) in [
        (&cases.meant, "as meant", middle, Rounding::Nearest),
        (&cases.most, "most", "greatest T′", Rounding::Up),
        (
            &cases.worst,
            "worst",
            if cases.nut.is_some() {
                "greatest T′, at the friction and with the nut that are worst for them"
            } else {
                "greatest T′, at the friction that is worst for them"
            },
            Rounding::Up,
        ),
        (&cases.least, "least", "least T′", Rounding::Down),
    ] {
        // Most and worst differ only where the friction under the head is apart, or a nut takes more or less.
        let same = cases.worst.friction == cases.most.friction
            && cases.worst.prevailing == cases.most.prevailing;
        if which == "worst" && same {
            continue;
        }
        all.push(preload(cases, case, dress, &format!("preload, {which} ({torque})"), rounding));
        if which != "least" {
            all.push(combined(cases, case, dress, &format!("combined stress, {which}"), rounding));
        }
    }
    // What bears is never told greater than it is.
    let load = dress.force(&cases.proof_load.low(), Rounding::Down);
    all.push(line("Fp", "proof load", "As · Sp", load, "ISO 898-1, SAE J429"));
    all
}

fn preload(
    cases: &Cases<'_>,
    case: &Case,
    dress: Dress<'_>,
    what: &str,
    rounding: Rounding,
) -> Worked {
    let joint = &cases.joint;
    let friction = dress.plain(&case.friction).said();
    let head = dress.plain(&case.head).said();
    let of_torque = dress.torque(&case.torque, rounding).said();
    let (of_torque, symbol) = if cases.nut.is_some() {
        // The more the nut takes, the less is left.
        let other = match rounding {
            Rounding::Up => Rounding::Down,
            Rounding::Down => Rounding::Up,
            Rounding::Nearest => Rounding::Nearest,
        };
        let off = dress.torque(&case.prevailing, other).said();
        (format!("({of_torque} − {off})"), "(T − M)")
    } else {
        (of_torque, "T")
    };
    let under = if cases.apart { "μK" } else { "μ" };
    let (pitch, d2, dkm) = (
        dress.length(&joint.pitch).said(),
        dress.length(&joint.pitch_diameter).said(),
        dress.length(&joint.head_diameter).said(),
    );
    Worked {
        symbol: "F".to_owned(),
        what: what.to_owned(),
        formula: format!("{symbol} / (0.16 P + 0.58 d2 μ + DKm {under}/2)"),
        numbers: format!(
            "{of_torque} / (0.16 × {pitch} + 0.58 × {d2} × {friction} + {dkm} × {head} / 2)"
        ),
        figure: dress.force(&case.preload, rounding),
        source: VDI.to_owned(),
    }
}

fn combined(
    cases: &Cases<'_>,
    case: &Case,
    dress: Dress<'_>,
    what: &str,
    rounding: Rounding,
) -> Worked {
    let joint = &cases.joint;
    let (d2, ds) = (&joint.pitch_diameter, &joint.stress_diameter);
    let (d2, ds) = (dress.length(d2).said(), dress.length(ds).said());
    let force = dress.force(&case.preload, rounding).said();
    let area = dress.area(&joint.area.low()).said();
    let pitch = dress.length(&joint.pitch).said();
    let friction = dress.plain(&case.friction).said();
    if cases.nut.is_some() {
        return Worked {
            symbol: "σ".to_owned(),
            what: what.to_owned(),
            formula: "√((F/As)² + 3 [F/As · 3/2 · d2/dS · (P/(π d2) + 1.155 μ) + 3 M/(As dS)]²)"
                .to_owned(),
            numbers: format!(
                "√(({force} / {area})² + 3 [{force} / {area} × 3/2 × {d2} / {ds} × ({pitch} / (π × {d2}) + 1.155 × {friction}) + 3 × {} / ({area} × {ds})]²)",
                dress.torque(&case.prevailing, Rounding::Up).said()
            ),
            figure: dress.stress(&case.stress.high(), Rounding::Up),
            source: format!("{VDI}; the nut's own torque taken to twist the shank, for safety"),
        };
    }
    Worked {
        symbol: "σ".to_owned(),
        what: what.to_owned(),
        formula: "F/As · √(1 + 3 [3/2 · d2/dS · (P/(π d2) + 1.155 μ)]²)".to_owned(),
        numbers: format!(
            "{force} / {area} × √(1 + 3 [3/2 × {d2} / {ds} × ({pitch} / (π × {d2}) + 1.155 × {friction})]²)"
        ),
        figure: dress.stress(&case.stress.high(), Rounding::Up),
        source: VDI.to_owned(),
    }
}
