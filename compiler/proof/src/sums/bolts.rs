//! The sum of a tightening: from torque, wrench and friction to the preload and the stress.

use super::cases::{Case, Cases, cases, stretch};
use super::dress::Dress;
use super::{Figure, Given, Judged, Outcome, Sum, Worked, wrench};
use crate::hardware::{
    FigureYields, JointOpens, MayYield, StretchedAgain, TooLoose, WrenchTooCoarse,
};
use locknut_finding::{Finding, Span};
use locknut_graph::{Act, Friction, Instrument, StepGraph, Tightening};
use locknut_quantity::{Exact, Limit, Rounding, Units};

const VDI: &str = "VDI 2230-1, from public descriptions of it";

/// The sum of an act that tightens to a torque.
pub(super) fn sum(graph: &StepGraph, units: &Units, act: &Act, span: Span) -> Option<Sum> {
    let of = act.tightening.as_ref()?;
    let torque = of.torque()?;
    let wrench = act.instrument.and_then(|wrench| graph.instruments.get(wrench));
    let mut sum = Sum {
        what: format!("{} tightened to {}", of.thing.said, torque.written),
        span,
        steps: Vec::new(),
        given: figure(units, torque, wrench),
        worked: Vec::new(),
        judged: wrench::judged(torque, wrench, WrenchTooCoarse::PAGE.code()),
    };
    match cases(of, wrench) {
        Ok(cases) => {
            if let Some(dress) = Dress::of(units, cases.thread, torque.unit) {
                sum.given.extend(given(of, &cases, dress));
                sum.worked = worked(&cases, dress);
                sum.given.extend(given_of_angle(of, &cases, dress));
                sum.worked.extend(strain(of, &cases, dress));
                sum.judged.extend(judged(of, &cases, dress));
            }
        }
        Err(lacks) => sum.judged.push(Judged {
            outcome: Outcome::Open,
            code: None,
            text: format!("preload and stress are not reckoned: {} declared", lacks.join(", ")),
        }),
    }
    Some(sum)
}

fn figure(units: &Units, torque: &Limit, wrench: Option<&Instrument>) -> Vec<Given> {
    let mut all = Vec::new();
    if let Some(figure) = Figure::of_limit(units, torque) {
        all.push(of(
            "T",
            "figure with its tolerance",
            figure,
            format!("as written: {}", torque.written),
        ));
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
    if let Some(load) = &tightening.carries {
        let what = "load along each of them, at most";
        all.push(of(
            "FA",
            what,
            dress.force(load, Rounding::Up),
            "as declared with them".to_owned(),
        ));
    }
    if let Some(nut) = &tightening.prevailing {
        let mut torque = dress.torque(&nut.least, Rounding::Down);
        let upper = dress.torque(&nut.greatest, Rounding::Up);
        torque.rounded |= upper.rounded;
        torque.numbers.extend(upper.numbers);
        all.push(of("M", "prevailing torque of the self-locking nut", torque, nut.source.clone()));
    }
    let class = |what: &str| format!("{what} of class {}", strength.name);
    all.extend([
        of("μ", &format!("friction, {}", friction.said), range, friction.source.clone()),
        of(
            "Rp",
            &class("yield stress"),
            dress.stress(&strength.limit, Rounding::Nearest),
            strength.source.clone(),
        ),
        of(
            "Sp",
            &class("proof stress"),
            dress.stress(&strength.proof, Rounding::Nearest),
            strength.source.clone(),
        ),
    ]);
    all
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
        of("L", "length clamped", dress.length(clamps), "as declared with them".to_owned()),
        of(
            "E",
            steel,
            dress.stress(modulus, Rounding::Nearest),
            "common practice, from memory".to_owned(),
        ),
    ]
}

/// The stretch at most: of the torque, and of the angle as if the parts gave nothing.
fn strain(tightening: &Tightening, cases: &Cases<'_>, dress: Dress<'_>) -> Option<Worked> {
    let stretch = stretch(tightening, cases)?;
    let most = &stretch.strain.high();
    let numbers = thousandths_of(dress, most, Rounding::Up).numbers;
    Some(Worked {
        symbol: "ε".to_owned(),
        what: "stretch at most, if the parts gave nothing".to_owned(),
        formula: "F most / (As E) + P A / (360° L)".to_owned(),
        numbers: String::new(),
        figure: Figure { numbers, unit: "‰".to_owned(), rounded: true },
        source: "Hooke's law, and the advance of the thread".to_owned(),
    })
}

fn worked(cases: &Cases<'_>, dress: Dress<'_>) -> Vec<Worked> {
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
    let set = "torque that the wrench may bring, set anywhere in the tolerance";
    all.push(line("T′", set, "T ± e", brought, "common practice"));
    for (case, which, torque, rounding) in [
        (&cases.meant, "as meant", "middle of T", Rounding::Nearest),
        (&cases.most, "most", "greatest T′", Rounding::Up),
        (
            &cases.worst,
            "worst",
            "greatest T′, at the friction that is worst for them",
            Rounding::Up,
        ),
        (&cases.least, "least", "least T′", Rounding::Down),
    ] {
        // Most and worst differ only where the friction under the head is apart.
        if which == "worst" && cases.worst.friction == cases.most.friction {
            continue;
        }
        all.push(preload(cases, case, dress, &format!("preload, {which} ({torque})"), rounding));
        if which != "least" {
            all.push(combined(cases, case, dress, &format!("combined stress, {which}"), rounding));
        }
    }
    let load = dress.force(&cases.proof_load.high(), Rounding::Up);
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
        let off = dress.torque(&case.prevailing, Rounding::Nearest).said();
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
    if let Some(nut) = cases.nut {
        let twists = if case.prevailing == nut.least { &nut.greatest } else { &case.prevailing };
        return Worked {
            symbol: "σ".to_owned(),
            what: what.to_owned(),
            formula: "√((F/As)² + 3 [F/As · 3/2 · d2/dS · (P/(π d2) + 1.155 μ) + 3 M/(As dS)]²)"
                .to_owned(),
            numbers: format!(
                "F = {}, μ = {}, M = {}",
                dress.force(&case.preload, rounding).said(),
                dress.plain(&case.friction).said(),
                dress.torque(twists, Rounding::Up).said()
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
            "{} / {} × √(1 + 3 [3/2 × {d2} / {ds} × ({} / (π × {d2}) + 1.155 × {})]²)",
            dress.force(&case.preload, rounding).said(),
            dress.area(&joint.area.low()).said(),
            dress.length(&joint.pitch).said(),
            dress.plain(&case.friction).said()
        ),
        figure: dress.stress(&case.stress.high(), Rounding::Up),
        source: VDI.to_owned(),
    }
}

fn judged(of: &Tightening, cases: &Cases<'_>, dress: Dress<'_>) -> Vec<Judged> {
    let one = |holds: bool, code, text| Judged {
        outcome: if holds { Outcome::Holds } else { Outcome::Fails },
        code: Some(code),
        text,
    };
    let of_yield = |case: &Case| {
        let share = case.stress.high() / &cases.strength.limit;
        format!(
            "σ is {} of the yield stress {}",
            Dress::percent(&share, Rounding::Up).said(),
            dress.stress(&cases.strength.limit, Rounding::Nearest).said()
        )
    };
    let middle = dress.plain(&cases.meant.friction).said();
    let least = dress.plain(&cases.worst.friction).said();
    let which = if cases.worst.friction == cases.friction.least { "least" } else { "greatest" };
    let which = if of.head_friction.is_some() {
        format!("{which} friction of the thread ({least}), the least under the head")
    } else {
        format!("least friction ({least})")
    };
    let mut all = vec![
        one(
            !cases.yields(),
            FigureYields::PAGE.code(),
            format!("at the middle of the friction ({middle}) {}", of_yield(&cases.meant)),
        ),
        one(
            !cases.may_yield(),
            MayYield::PAGE.code(),
            format!("at the {which} and the most torque {}", of_yield(&cases.worst)),
        ),
    ];
    if of.angle().is_some() {
        all.push(open("the least preload is not judged: how much of the angle goes into the parts is not modelled"));
        all.push(angle(of, cases, dress));
    } else {
        all.push(one(
            cases.share_held() >= of.least,
            TooLoose::PAGE.code(),
            format!(
                "the slackest case holds {} of the proof load, {} are asked for",
                Dress::percent(&cases.share_held(), Rounding::Down).said(),
                Dress::percent(&of.least, Rounding::Nearest).said()
            ),
        ));
        all.extend(of.carries.as_ref().map(|load| {
            one(
                cases.stays_shut(load),
                JointOpens::PAGE.code(),
                format!(
                    "the slackest case clamps with {}, and {} are taken off it at most; how much of that the bolts bear, and whether they can, is not reckoned",
                    dress.force(&cases.least.preload, Rounding::Down).said(),
                    dress.force(load, Rounding::Up).said()
                ),
            )
        }));
    }
    all
}

fn open(text: &str) -> Judged {
    Judged { outcome: Outcome::Open, code: None, text: text.to_owned() }
}

fn angle(of: &Tightening, cases: &Cases<'_>, dress: Dress<'_>) -> Judged {
    let Some(stretch) = stretch(of, cases) else {
        return open(
            "the angle is not judged: nothing says which length the bolts clamp (clamps 40 mm)",
        );
    };
    let elastic = stretch.strain.high() <= stretch.elastic;
    let most = thousandths(dress, &stretch.strain.high(), Rounding::Up);
    let limit = thousandths(dress, &stretch.elastic, Rounding::Down);
    let text = format!(
        "if the parts gave nothing, the angle would stretch the bolts to {most} of their length; they yield at {limit}"
    );
    if elastic {
        return Judged { outcome: Outcome::Holds, code: None, text };
    }
    let code = StretchedAgain::PAGE.code();
    if of.single_use {
        return open(&format!("{text}; they are used once only"));
    }
    Judged { outcome: Outcome::Fails, code: Some(code), text }
}

/// A strain: `3.4 ‰`.
pub(crate) fn thousandths(dress: Dress<'_>, strain: &Exact, rounding: Rounding) -> String {
    format!("{} ‰", thousandths_of(dress, strain, rounding).said())
}

fn thousandths_of(dress: Dress<'_>, strain: &Exact, rounding: Rounding) -> Figure {
    dress.number(&(strain * Exact::from_integer(1000.into())), rounding)
}
