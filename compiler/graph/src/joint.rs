//! Tightenings: what is known of the fasteners, how far they are tightened, and in which order.

use crate::{Carries, Prose, Words};
use locknut_finding::Span;
use locknut_quantity::{Bound, Exact, Limit, Range, UnitId};

/// How a set of like threaded fasteners is tightened, with all that is known of them. What was not declared is
/// left out; then nothing is reckoned that rests on it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tightening {
    /// The fasteners.
    pub thing: Words,
    /// Their thread.
    pub thread: Option<Thread>,
    /// Their strength class.
    pub strength: Option<Strength>,
    /// Friction of the thread, and of the face under the head where nothing else is said of that.
    pub friction: Option<Friction>,
    /// Friction of the face under the head, where it is apart.
    pub head_friction: Option<Friction>,
    /// The torque that a self-locking nut takes by itself.
    pub prevailing: Option<Prevailing>,
    /// The face under the head.
    pub head: Option<Head>,
    /// The length that they clamp.
    pub clamps: Option<Exact>,
    /// The load that pulls along them, where it is known what each of them bears of it.
    pub carries: Option<Carries>,
    /// Once used they may not be tightened again.
    pub single_use: bool,
    /// How far, stage by stage.
    pub stages: Vec<Stage>,
    /// Where the stages are written: in the act, or with the fasteners.
    pub figure_at: Span,
    /// Whether the act gives its own figure.
    pub own_figure: bool,
    /// The author's reason for it.
    pub because: Option<Prose>,
    /// Which part of their proof load they must hold at least.
    pub least: Exact,
    /// Where they stand, and in which order they are tightened.
    pub pattern: Option<Pattern>,
    /// Where the fasteners are declared.
    pub declared: Span,
}

/// Where the fasteners of a set stand, and in which order they are tightened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pattern {
    /// Where they stand.
    pub layout: Layout,
    /// Their positions, counted from 0 as the layout says, in the order of tightening: each once.
    pub order: Vec<u16>,
}

/// Where fasteners stand. Places are in thousandths of the longer side, to the right and down.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Layout {
    /// On a circle, counted clockwise, as seen on the heads.
    Circle,
    /// Along the outline of a rectangle, counted clockwise from its top left corner.
    Rectangle(Vec<(u16, u16)>),
    /// In a row, counted from the left.
    Row(Vec<(u16, u16)>),
    /// Where they are listed, counted in that order.
    Listed(Vec<(u16, u16)>),
}

/// A stage of a tightening.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stage {
    /// To a torque.
    Torque(Limit),
    /// On by an angle.
    Angle(Limit),
}

/// A thread. Lengths are in base units.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Thread {
    /// `M12`
    pub name: String,
    /// Nominal diameter.
    pub diameter: Exact,
    /// From crest to crest.
    pub pitch: Exact,
    /// Whether it is declared by threads per inch, as the Unified ones are.
    pub unified: bool,
    /// The unit of its diameter.
    pub unit: UnitId,
    /// Where its figures come from.
    pub source: String,
}

/// A strength class, for the size at hand. Stresses are in base units.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Strength {
    /// `10.9`
    pub name: String,
    /// Proof stress.
    pub proof: Exact,
    /// Yield stress.
    pub limit: Exact,
    /// Modulus of elasticity.
    pub modulus: Option<Exact>,
    /// Where its figures come from.
    pub source: String,
}

/// A range of friction.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Friction {
    /// The least.
    pub least: Exact,
    /// The greatest.
    pub greatest: Exact,
    /// How it is said: "oiled", "measured".
    pub said: String,
    /// Where it comes from.
    pub source: String,
}

/// The torque that turns a self-locking nut before its face touches, in base units.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Prevailing {
    /// The least.
    pub least: Exact,
    /// The greatest.
    pub greatest: Exact,
    /// Where it comes from.
    pub source: String,
}

/// The ring on which a head or a nut bears, in base units.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Head {
    /// Outer diameter.
    pub bearing: Exact,
    /// Diameter of the hole.
    pub hole: Exact,
    /// Where the two come from.
    pub source: String,
}

impl Tightening {
    /// The passes by torque, in their order.
    pub fn passes(&self) -> Vec<&Limit> {
        let mut passes = Vec::new();
        for stage in &self.stages {
            match stage {
                Stage::Torque(limit) => passes.push(limit),
                Stage::Angle(_) => {}
            }
        }
        passes
    }

    /// The torque that counts: of several passes the greatest, wherever it stands. What a wrench has tightened, a lower
    /// pass does not loosen.
    pub fn torque(&self) -> Option<&Limit> {
        self.passes().into_iter().max_by_key(|limit| nominal(limit))
    }

    /// The first pass that is below one ahead of it, and the greatest of those; none where each goes on. One that is
    /// as great brings home what its neighbours have loosened (common practice).
    pub fn idle_pass(&self) -> Option<(&Limit, &Limit)> {
        let passes = self.passes();
        passes.iter().enumerate().find_map(|(at, pass)| {
            let before = passes.iter().take(at).max_by_key(|limit| nominal(limit))?;
            (nominal(pass) < nominal(before)).then_some((*pass, *before))
        })
    }

    /// The angle by which they are turned on after that, where there is one.
    pub fn angle(&self) -> Option<Limit> {
        angle(&self.stages)
    }
}

/// All that some stages turn on, added up: `40° + 40°`.
pub fn angle(stages: &[Stage]) -> Option<Limit> {
    let angles = stages.iter().filter_map(|stage| match stage {
        Stage::Angle(limit) => Some(limit),
        Stage::Torque(_) => None,
    });
    let sum = |one: Option<Bound>, other: &Option<Bound>| {
        let (one, other) = (one?, other.as_ref()?);
        Some(Bound { value: one.value + &other.value, closed: one.closed && other.closed })
    };
    angles.cloned().reduce(|all, next| Limit {
        range: Range {
            lower: sum(all.range.lower, &next.range.lower),
            upper: sum(all.range.upper, &next.range.upper),
        },
        written: format!("{} + {}", all.written, next.written),
        decimals: all.decimals.max(next.decimals),
        ..all
    })
}

/// The middle of a figure, or its only end.
fn nominal(limit: &Limit) -> Exact {
    let value = |end: &Option<Bound>| end.as_ref().map(|end| end.value.clone());
    match (value(&limit.range.lower), value(&limit.range.upper)) {
        (Some(low), Some(high)) => (low + high) / Exact::from_integer(2.into()),
        (one, other) => one.or(other).unwrap_or_default(),
    }
}
