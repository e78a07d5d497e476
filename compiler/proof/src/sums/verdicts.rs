//! What follows from the sum of a tightening: what holds, what fails, and what is not judged, with the reason.

use super::cases::{Case, Cases, stretch};
use super::dress::Dress;
use super::load::{self, Load};
use super::{Figure, Judged, Outcome};
use crate::hardware::{FigureYields, JointOpens, MayYield, NutTakesAll, StretchedAgain, TooLoose};
use locknut_finding::Finding;
use locknut_graph::{Instrument, Tightening};
use locknut_quantity::{Exact, Rounding};

fn one(holds: bool, code: &'static str, text: String) -> Judged {
    let outcome = if holds { Outcome::Holds } else { Outcome::Fails };
    Judged { outcome, code: Some(code), text }
}

pub(super) fn judged(of: &Tightening, cases: &Cases<'_>, dress: Dress<'_>) -> Vec<Judged> {
    // Of several passes each is judged by itself.
    let several = of.passes().len() > 1;
    let mut all = if several { Vec::new() } else { of_stress(of, cases, dress) };
    if of.angle().is_some() && !cases.too_loose(of) {
        all.push(open("the least preload is not judged: how much of the angle goes into the parts is not modelled"));
    } else if let Some(share) = cases.share_held(of) {
        let even = if of.angle().is_some() {
            "even if the parts gave nothing under the angle, "
        } else {
            ""
        };
        all.push(one(
            !cases.too_loose(of),
            TooLoose::PAGE.code(),
            format!(
                "{even}the slackest case holds {} of the proof load, {} are asked for",
                Dress::percent(&share, Rounding::Down).said(),
                Dress::percent(&of.least, Rounding::Up).said()
            ),
        ));
    }
    all.extend(beside(of, Ok(cases), dress));
    all
}

/// Whether the figure stretches the fastener for good, and whether it may.
pub(super) fn of_stress(of: &Tightening, cases: &Cases<'_>, dress: Dress<'_>) -> Vec<Judged> {
    let of_yield = |case: &Case| {
        let share = case.stress.high() / &cases.strength.limit;
        format!(
            "σ is {} of the yield stress {}",
            Dress::percent(&share, Rounding::Up).said(),
            dress.stress(&cases.strength.limit, Rounding::Down).said()
        )
    };
    let middle = cases.friction_of(&cases.meant, dress);
    let least = cases.friction_of(&cases.worst, dress);
    let which = if cases.worst.friction == cases.friction.least { "least" } else { "greatest" };
    let which = if of.head_friction.is_some() {
        format!("{which} friction of the thread and the least under the head ({least})")
    } else {
        format!("least friction ({least})")
    };
    vec![
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
    ]
}

/// What is judged of the angle and of the load, or why it is not.
pub(super) fn beside(
    of: &Tightening,
    cases: Result<&Cases<'_>, &Vec<&'static str>>,
    dress: Dress<'_>,
) -> Vec<Judged> {
    let turned = match (load::angle_open(of, cases), cases) {
        (Some(why), _) => Some(open(&format!("the angle is not judged: {why}"))),
        (None, Ok(cases)) => angle(of, cases, dress),
        (None, Err(_)) => None,
    };
    turned.into_iter().chain(of_load(of, cases, dress)).collect()
}

fn of_load(
    of: &Tightening,
    cases: Result<&Cases<'_>, &Vec<&'static str>>,
    dress: Dress<'_>,
) -> Option<Judged> {
    let (code, carries) = (JointOpens::PAGE.code(), of.carries.as_ref()?);
    let much = dress.force(&carries.share.all(), Rounding::Up).said();
    Some(match (load::load(of, cases)?, cases) {
        (Load::Open(why), _) => open(&format!(
            "whether the joint stays shut under the load of {much} is not judged: {why}"
        )),
        (Load::BeyondProof(proof), _) => {
            let proof = dress.force(&proof, Rounding::Down).said();
            one(false, code, format!("the load of {much} is no less than the proof load {proof}"))
        }
        (Load::Held, Ok(cases)) => one(true, code, slackest(of, cases, &much, dress)),
        (Load::Opens, Ok(cases)) => one(false, code, slackest(of, cases, &much, dress)),
        (Load::Held | Load::Opens, Err(_)) => return None,
    })
}

fn slackest(of: &Tightening, cases: &Cases<'_>, load: &str, dress: Dress<'_>) -> String {
    let preload = cases.slackest(of).unwrap_or_default();
    let most = if of.angle().is_some() {
        "at most, if the parts gave nothing under the angle, "
    } else {
        ""
    };
    format!(
        "the slackest case clamps {most}with {}, and {load} are taken off it at most; how much of that the bolts bear, and whether they can, is not reckoned",
        dress.force(&preload, Rounding::Down).said(),
    )
}

/// Whether a self-locking nut leaves something of the torque; nothing where there is none.
pub(super) fn nut_takes(
    of: &Tightening,
    wrench: Option<&Instrument>,
    dress: Dress<'_>,
) -> Option<Judged> {
    let nut = of.prevailing.as_ref()?;
    let greatest = dress.torque(&nut.greatest, Rounding::Up).said();
    let (holds, text) = match load::all_taken(of, wrench) {
        Some(taken) => {
            let least = dress.torque(&taken.least, Rounding::Down).said();
            (false, format!("the nut may take {greatest}, and the wrench may bring only {least}"))
        }
        None => (true, format!("the nut takes {greatest} at most, and the torque is more")),
    };
    Some(one(holds, NutTakesAll::PAGE.code(), text))
}

pub(super) fn open(text: &str) -> Judged {
    Judged { outcome: Outcome::Open, code: None, text: text.to_owned() }
}

/// None where there is no angle, or where it is not judged.
fn angle(of: &Tightening, cases: &Cases<'_>, dress: Dress<'_>) -> Option<Judged> {
    let stretch = stretch(of, cases)?;
    let elastic = stretch.strain.high() <= stretch.elastic;
    let most = thousandths(dress, &stretch.strain.high(), Rounding::Up);
    let limit = thousandths(dress, &stretch.elastic, Rounding::Down);
    let text = format!(
        "if the parts gave nothing, the angle would stretch the bolts by {most} of their length; twisted as they are by then, they yield at {limit}"
    );
    if elastic {
        return Some(Judged { outcome: Outcome::Holds, code: None, text });
    }
    if of.single_use {
        return Some(open(&format!("{text}; they are used once only")));
    }
    Some(one(false, StretchedAgain::PAGE.code(), text))
}

/// A strain: `3.4 ‰`.
pub(crate) fn thousandths(dress: Dress<'_>, strain: &Exact, rounding: Rounding) -> String {
    format!("{} ‰", thousandths_of(dress, strain, rounding).said())
}

pub(super) fn thousandths_of(dress: Dress<'_>, strain: &Exact, rounding: Rounding) -> Figure {
    dress.number(&(strain * Exact::from_integer(1000.into())), rounding)
}
