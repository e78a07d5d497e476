//! What is said of a tightening beside its preload and stress: the load along the fasteners, the angle, and a nut that
//! takes all of the torque. Where it cannot be judged, why not: nothing that is declared is passed over unsaid.

use super::cases::{Cases, stretch};
use super::joint::Joint;
use locknut_finding::Span;
use locknut_graph::{Instrument, Prevailing, StepGraph, Tightening};
use locknut_quantity::{Between, Exact, Limit};
use num_traits::Signed;
use std::collections::BTreeSet;

/// What is declared of a tightening and could not be judged.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct NotJudged {
    /// What stays open, and why, in words.
    pub what: String,
    /// The act that it is for.
    pub act: Span,
}

/// How the load along each of the fasteners comes out.
pub(crate) enum Load {
    /// The slackest case clamps with more.
    Held,
    /// The slackest case does not.
    Opens,
    /// However they are tightened: the load is no less than this, the load that they are proved with.
    BeyondProof(Exact),
    /// Nobody can tell, and why.
    Open(String),
}

/// None where no load is declared.
pub(crate) fn load(of: &Tightening, cases: Result<&Cases<'_>, &Vec<&'static str>>) -> Option<Load> {
    let load = &of.carries.as_ref()?.share.all();
    if let Some(proof) = proof_load(of).filter(|proof| *load >= proof.low()) {
        return Some(Load::BeyondProof(proof.low()));
    }
    Some(match cases {
        Ok(cases) if cases.slackest(of).is_some_and(|most| most <= *load) => Load::Opens,
        Ok(_) if of.angle().is_some() => {
            Load::Open("how much of the angle goes into the parts is not modelled".to_owned())
        }
        Ok(_) => Load::Held,
        Err(lacks) => Load::Open(declared(lacks)),
    })
}

/// `no thread, no strength class declared`
pub(super) fn declared(lacks: &[&str]) -> String {
    format!("{} declared", lacks.join(", "))
}

/// What the fasteners are proved with, whatever else is known of them.
fn proof_load(of: &Tightening) -> Option<Between> {
    let (thread, strength) = (of.thread.as_ref()?, of.strength.as_ref()?);
    let (diameter, area) = Joint::stress_area(thread);
    let sound = diameter.is_positive() && strength.proof.is_positive();
    sound.then(|| area.times(&Between::exactly(&strength.proof)))
}

/// Why the angle of a tightening is not judged; none where there is none, or where it is.
pub(crate) fn angle_open(
    of: &Tightening,
    cases: Result<&Cases<'_>, &Vec<&'static str>>,
) -> Option<String> {
    of.angle()?;
    match cases {
        Err(lacks) => Some(declared(lacks)),
        Ok(cases) if stretch(of, cases).is_some() => None,
        Ok(_) if of.clamps.is_none() => {
            Some("nothing says which length they clamp (clamps 40 mm)".to_owned())
        }
        Ok(_) => Some("no modulus of elasticity or no upper end of the angle declared".to_owned()),
    }
}

/// Whether the angle may stretch them for good, as far as that is judged.
fn yields_by_angle(of: &Tightening, cases: &Cases<'_>) -> bool {
    stretch(of, cases).is_some_and(|stretch| stretch.strain.high() > stretch.elastic)
}

/// The least that a torque may bring, and what the nut may take of that, where nothing is left for sure.
pub(crate) struct AllTaken<'a> {
    pub(crate) torque: &'a Limit,
    pub(crate) nut: &'a Prevailing,
    pub(crate) least: Exact,
    /// Whether only the error of the wrench makes it so.
    pub(crate) by_wrench: bool,
}

/// Whether the self-locking nut may take all of the torque. Asks for nothing but the two figures.
pub(crate) fn all_taken<'a>(
    of: &'a Tightening,
    wrench: Option<&Instrument>,
) -> Option<AllTaken<'a>> {
    taken(of, of.torque()?, wrench)
}

/// A pass ahead of the one that counts of which the nut may take all; none where it may take all of that one, too.
pub(crate) fn pass_taken<'a>(
    of: &'a Tightening,
    wrench: Option<&Instrument>,
) -> Option<AllTaken<'a>> {
    if all_taken(of, wrench).is_some() {
        return None;
    }
    of.passes().into_iter().find_map(|pass| taken(of, pass, wrench))
}

fn taken<'a>(
    of: &'a Tightening,
    torque: &'a Limit,
    wrench: Option<&Instrument>,
) -> Option<AllTaken<'a>> {
    let nut = of.prevailing.as_ref()?;
    // "at most 20 N·m" is set to its end: no other figure stands there.
    let low = &torque.range.lower.as_ref().or(torque.range.upper.as_ref())?.value;
    let error = wrench.and_then(|wrench| wrench.error.as_ref());
    let least = (low - error.map(|error| error.at(low)).unwrap_or_default()).max(Exact::default());
    let by_wrench = *low > nut.greatest;
    let all = nut.greatest.is_positive() && least <= nut.greatest;
    all.then_some(AllTaken { torque, nut, least, by_wrench })
}

/// What is declared of the tightenings of a procedure and could not be judged, in the order of its lines.
pub fn not_judged(graph: &StepGraph) -> Vec<NotJudged> {
    let mut all = Vec::new();
    let mut told = BTreeSet::new();
    let taken = super::unstated::taken(graph);
    for act in graph.flow.node_weights().filter_map(locknut_graph::Node::act) {
        let unstated = super::unstated::unstated(graph, &taken, act);
        all.extend(unstated.into_iter().filter(|one| told.insert(one.clone())));
        let Some(of) = &act.tightening else { continue };
        let wrench = act.instrument.and_then(|wrench| graph.instruments.get(wrench));
        if of.carries.is_none() && of.angle().is_none() {
            continue;
        }
        let cases = super::cases::cases(of, wrench);
        for what in open(of, cases.as_ref()) {
            let one = NotJudged { what, act: act.line.span };
            if told.insert(one.clone()) {
                all.push(one);
            }
        }
    }
    all
}

fn open(of: &Tightening, cases: Result<&Cases<'_>, &Vec<&'static str>>) -> Vec<String> {
    let thing = &of.thing.said;
    let mut all = Vec::new();
    if let Some(Load::Open(why)) = load(of, cases) {
        all.push(format!("whether the joint of the {thing} stays shut under its load: {why}"));
    }
    if let Some(why) = angle_open(of, cases) {
        let does = if of.single_use { "tears" } else { "stretches" };
        let for_good = if of.single_use { "" } else { " for good" };
        all.push(format!("whether the angle {does} the {thing}{for_good}: {why}"));
    } else if of.single_use && cases.is_ok_and(|cases| yields_by_angle(of, cases)) {
        all.push(format!(
            "whether the angle tears the {thing}, which it stretches for good: how far they stretch before they break is not modelled"
        ));
    }
    all
}
