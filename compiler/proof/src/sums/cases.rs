//! The three cases that a tightening is judged by: the figure as meant, the most and the least that it can bring.

use super::dress::Dress;
use super::joint::Joint;
use super::wrench::middle;
use locknut_graph::{Friction, Instrument, Prevailing, Strength, Thread, Tightening};
use locknut_quantity::{Between, Exact, Limit, to_decimal};
use num_traits::Signed;

/// A torque at a friction, and what comes of it.
#[derive(Clone, Debug)]
pub(crate) struct Case {
    pub(crate) torque: Exact,
    pub(crate) friction: Exact,
    /// Friction under the head.
    pub(crate) head: Exact,
    /// Prevailing torque that is taken off.
    pub(crate) prevailing: Exact,
    pub(crate) preload: Exact,
    pub(crate) stress: Between,
}

/// All that is reckoned of a tightening.
#[derive(Clone, Debug)]
pub(crate) struct Cases<'a> {
    pub(crate) torque: &'a Limit,
    pub(crate) thread: &'a Thread,
    pub(crate) strength: &'a Strength,
    pub(crate) friction: &'a Friction,
    /// Whether the friction under the head is apart.
    pub(crate) apart: bool,
    /// Of a self-locking nut.
    pub(crate) nut: Option<&'a Prevailing>,
    pub(crate) joint: Joint,
    /// The middle of the figure at the middle of the friction.
    pub(crate) meant: Case,
    /// The most that the wrench may bring, at the least friction.
    pub(crate) most: Case,
    /// The most that the wrench may bring, at the friction that is worst for the fastener.
    pub(crate) worst: Case,
    /// The least that it may bring, at the greatest friction.
    pub(crate) least: Case,
    /// The load that the fastener is proved with.
    pub(crate) proof_load: Between,
}

/// What the passes of a tightening come to: the most of what each of them does, as no pass undoes another.
struct Reached {
    least: Exact,
    meant: Exact,
    most: Exact,
}

/// None where there is no pass, or one without two ends.
fn reached(of: &Tightening, wrench: Option<&Instrument>) -> Option<Reached> {
    let error = |at: &Exact| {
        let of = wrench.and_then(|wrench| wrench.error.as_ref());
        of.map(|error| error.at(at)).unwrap_or_default()
    };
    let each = of.passes().into_iter().map(|pass| {
        let (meant, by) = middle(pass)?;
        let (low, high) = (&meant - &by, &meant + &by);
        Some(Reached { least: &low - error(&low), most: &high + error(&high), meant })
    });
    let each: Vec<Reached> = each.collect::<Option<_>>()?;
    each.into_iter().reduce(|one, other| Reached {
        least: one.least.max(other.least),
        meant: one.meant.max(other.meant),
        most: one.most.max(other.most),
    })
}

/// Reckons a tightening of one pass or several; `Err` names what was not declared.
pub(crate) fn cases<'a>(
    of: &'a Tightening,
    wrench: Option<&Instrument>,
) -> Result<Cases<'a>, Vec<&'static str>> {
    let reached = reached(of, wrench);
    let torque = of.torque().filter(|_| reached.is_some());
    let lacks: Vec<&'static str> = [
        (torque.is_none(), "no torque with two ends"),
        (of.thread.is_none(), "no thread"),
        (of.strength.is_none(), "no strength class that is made in this size"),
        (of.friction.is_none(), "no friction (dry, oiled, or measured)"),
        (of.head.is_none(), "no face under the head (bearing and hole)"),
    ]
    .into_iter()
    .filter_map(|(lacks, what)| lacks.then_some(what))
    .collect();
    let (Some(torque), Some(thread), Some(strength), Some(friction), Some(head)) =
        (torque, &of.thread, &of.strength, &of.friction, &of.head)
    else {
        return Err(lacks);
    };
    let joint = Joint::of(thread, head);
    let sound = [&thread.pitch, &joint.stress_diameter, &strength.proof, &strength.limit];
    if sound.iter().any(|figure| !figure.is_positive())
        || friction.least.is_negative()
        || joint.head_diameter.is_negative()
    {
        return Err(vec!["a thread, class or head of which no joint can be made"]);
    }
    let of_all = || {
        let Reached { least, meant: figure, most } = reached?;
        let half = |one: &Exact, other: &Exact| (one + other) / Exact::from_integer(2.into());
        let under = of.head_friction.as_ref().unwrap_or(friction);
        let (less, more) = of
            .prevailing
            .as_ref()
            .map(|one| (one.least.clone(), one.greatest.clone()))
            .unwrap_or_default();
        // What the nut takes off the torque is what it twists the shank with.
        let case = |torque: Exact, friction: &Exact, head: &Exact, off: Exact| {
            let left = (&torque - &off).max(Exact::default());
            let preload = joint.preload_of(&left, friction, head);
            let stress = if off.is_positive() {
                joint.stress_with(&preload, friction, &off)?
            } else {
                joint.stress(&preload, friction)?
            };
            let (friction, head) = (friction.clone(), head.clone());
            Some(Case { torque, friction, head, prevailing: off, preload, stress })
        };
        let mean = half(&friction.least, &friction.greatest);
        let mean_off = half(&less, &more);
        // Whichever end of the thread's friction is worse for the bolt; only apart from the head's it may be the greatest.
        let ends = [&friction.least, &friction.greatest];
        let ends = ends.into_iter().take(if of.head_friction.is_some() { 2 } else { 1 });
        // So with what the nut takes: σ² is a sum of squares of two linear functions of it.
        let nuts = [&less, &more].into_iter().take(if less == more { 1 } else { 2 });
        let worst = ends
            .flat_map(|thread| nuts.clone().map(move |nut| (thread, nut)))
            .map(|(thread, nut)| case(most.clone(), thread, &under.least, nut.clone()));
        let worst: Vec<Case> = worst.collect::<Option<_>>()?;
        let most = worst.first()?.clone();
        Some(Cases {
            torque,
            thread,
            strength,
            friction,
            apart: of.head_friction.is_some(),
            nut: of.prevailing.as_ref(),
            meant: case(figure, &mean, &half(&under.least, &under.greatest), mean_off)?,
            worst: worst.into_iter().max_by(|a, b| a.stress.high().cmp(&b.stress.high()))?,
            most,
            least: case(
                least.max(Exact::default()),
                &friction.greatest,
                &under.greatest,
                more.clone(),
            )?,
            proof_load: joint.load_at(&strength.proof),
            joint: joint.clone(),
        })
    };
    of_all().ok_or_else(|| vec!["no torque with two ends"])
}

impl Cases<'_> {
    /// The friction of a case: `0.13`, or `0.13 in the thread and 0.05 under the head` where they are apart.
    pub(crate) fn friction_of(&self, case: &Case, dress: Dress<'_>) -> String {
        let (thread, head) = (dress.plain(&case.friction).said(), dress.plain(&case.head).said());
        if self.apart {
            format!("{thread} in the thread and {head} under the head")
        } else {
            thread
        }
    }

    /// Whether the figure itself stretches the fastener for good.
    pub(crate) fn yields(&self) -> bool {
        self.meant.stress.high() > self.strength.limit
    }

    /// Whether the worst of wrench and friction may.
    pub(crate) fn may_yield(&self) -> bool {
        self.worst.stress.high() > self.strength.limit
    }

    /// What an angle adds to the slackest case at most, as if the parts gave nothing; none where that is not known.
    pub(crate) fn turned_on(&self, of: &Tightening) -> Option<Exact> {
        let Some(angle) = of.angle() else { return Some(Exact::default()) };
        let modulus = self.strength.modulus.as_ref().filter(|modulus| modulus.is_positive())?;
        let clamps = of.clamps.as_ref().filter(|clamps| clamps.is_positive())?;
        let turns = angle.range.lower.or(angle.range.upper)?.value;
        Some(turns * &self.joint.pitch / clamps * modulus * self.joint.area.high())
    }

    /// The preload of the slackest case; behind an angle the most that it can be, none where that is not known.
    pub(crate) fn slackest(&self, of: &Tightening) -> Option<Exact> {
        Some(&self.least.preload + self.turned_on(of)?)
    }

    /// That over the proof load.
    pub(crate) fn share_held(&self, of: &Tightening) -> Option<Exact> {
        Some(self.slackest(of)? / self.proof_load.high())
    }

    /// Whether less is held than is asked for.
    pub(crate) fn too_loose(&self, of: &Tightening) -> bool {
        self.share_held(of).is_some_and(|share| share < of.least)
    }

    /// A torque that brings the fastener to so much of its yield stress at a friction, never more.
    pub(crate) fn torque_at(&self, share: &Exact, friction: &Exact) -> Option<Exact> {
        // What the nut takes by itself, and twists the shank with, is left out: with it nothing is proposed.
        if self.meant.prevailing.is_positive() {
            return None;
        }
        let preload = self.joint.preload_at(&(share * &self.strength.limit), friction)?;
        Some(self.joint.torque_of(&preload, friction, &self.meant.head).low())
    }
}

/// Into so many pieces a range of friction is cut.
const PIECES: u32 = 32;

/// What the angle of a torque-and-angle tightening does at most, if the parts give nothing.
#[derive(Clone, Debug)]
pub(crate) struct Stretch {
    /// Elongation over length.
    pub(crate) strain: Between,
    /// The strain at which the fastener yields, twisted as it is by then: yield stress over modulus, by `twisted`.
    pub(crate) elastic: Exact,
    /// Combined stress over tensile stress.
    pub(crate) twisted: Between,
    /// The friction of the thread that it is so at: the preload is that of the first, the twist that of the second.
    pub(crate) friction: (Exact, Exact),
    /// The preload of the torque ahead of the angle.
    pub(crate) before: Exact,
}

impl Stretch {
    /// `0.24`; of a piece of the range `0.2369 .. 0.2400`.
    pub(crate) fn friction_said(&self, dress: Dress<'_>) -> String {
        let (least, greatest) = &self.friction;
        if least == greatest {
            return dress.plain(least).said();
        }
        format!("{} .. {}", to_decimal(least, 4), to_decimal(greatest, 4))
    }

    /// How such a piece counts.
    pub(crate) fn of_piece(&self) -> &'static str {
        if self.friction.0 == self.friction.1 {
            ""
        } else {
            " (preload of the lesser, twist of the greater)"
        }
    }
}

/// None where the length clamped, the pitch or the modulus is not known.
///
/// More friction leaves less preload of the torque and twists harder while the angle is turned. Combined stress over friction falls,
/// then rises (its slope has the sign of a convex function that begins below nought), so one end of the friction is the
/// worst. Where nearly all of the preload is the angle's, or a nut twists besides, that is not shown: there the range is cut
/// into pieces, and of each the preload is taken from its lower end and the twist from its upper one.
pub(crate) fn stretch(of: &Tightening, cases: &Cases<'_>) -> Option<Stretch> {
    let modulus = cases.strength.modulus.as_ref().filter(|modulus| modulus.is_positive())?;
    let clamps = of.clamps.as_ref().filter(|clamps| clamps.is_positive())?;
    let turns = of.angle()?.range.upper?.value;
    let by_angle = turns * &cases.joint.pitch / clamps;
    let rigid = cases.joint.area.times(&Between::exactly(modulus));
    let (least, greatest) = (&cases.friction.least, &cases.friction.greatest);
    let most = &cases.most;
    let preload_at = |friction: &Exact, nut: &Exact| {
        let left = (&most.torque - nut).max(Exact::default());
        let under = if cases.apart { &most.head } else { friction };
        cases.joint.preload_of(&left, friction, under)
    };
    let mostly_torque = Between::exactly(&most.preload)
        .over(&rigid)
        .is_some_and(|strain| by_angle <= strain.low() * Exact::from_integer(4.into()));
    let tried = if mostly_torque && cases.nut.is_none() {
        let both = |friction: &Exact| (friction.clone(), friction.clone(), Exact::default());
        vec![both(least), both(greatest)]
    } else {
        let at = |piece: u32| least + (greatest - least) * Exact::new(piece.into(), PIECES.into());
        // One nut takes off and twists by as much: one end of that is the worst, too.
        let nuts: Vec<Exact> = match cases.nut {
            Some(nut) => vec![nut.least.clone(), nut.greatest.clone()],
            None => vec![Exact::default()],
        };
        let pieces = (0..PIECES).map(|piece| (at(piece), at(piece + 1)));
        let pieces = pieces
            .flat_map(|(from, to)| nuts.iter().map(move |nut| (from.clone(), to.clone(), nut)));
        pieces.map(|(from, to, nut)| (from, to, nut.clone())).collect()
    };
    let each = tried.into_iter().map(|(from, to, nut)| {
        let (before, friction) = (preload_at(&from, &nut), (from, to));
        let strain = Between::exactly(&before).over(&rigid)?.plus(&Between::exactly(&by_angle));
        let preload = strain.times(&rigid).high();
        let stress = if nut.is_positive() {
            cases.joint.stress_with(&preload, &friction.1, &nut)?
        } else {
            cases.joint.stress(&preload, &friction.1)?
        };
        let twisted = stress.over(&Between::exactly(&preload).over(&cases.joint.area)?)?;
        let elastic = &cases.strength.limit / modulus / twisted.high();
        Some(Stretch { strain, elastic, twisted, friction, before })
    });
    let each: Vec<Stretch> = each.collect::<Option<_>>()?;
    each.into_iter().max_by_key(|one| one.strain.high() / &one.elastic)
}
