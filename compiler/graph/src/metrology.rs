//! How far a value may be from the true one, and which readings a limit then lets through.

use locknut_quantity::{Bound, Exact, Grid, Range, Rounding, to_decimal};
use num_traits::{One, Signed, Zero};

/// The standard uncertainties that a guard band is wide: the one-sided normal quantile of 95 %,
/// 1.644853627 (ISO 14253-1:2017 wants a conformance probability of at least 95 %: seen in public
/// summaries only; the factor is computed), rounded up.
const ONE_SIDED: (i64, i64) = (1_644_854, 1_000_000);
/// The two-sided one, 1.959963985, rounded up: where the other limit is near, both tails count.
const TWO_SIDED: (i64, i64) = (1_959_964, 1_000_000);
/// From so many standard uncertainties between the limits on, the other tail is below 1e-10 and the
/// rounding of the one-sided factor makes up for it.
const FAR_APART: i64 = 8;

/// The greatest error of an instrument:
/// `fixed + of_step + of_reading × |reading| + of_full_scale × full scale`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InstrumentError {
    /// In base units of a difference.
    pub fixed: Exact,
    /// A fraction.
    pub of_reading: Exact,
    /// A fraction.
    pub of_full_scale: Exact,
    /// Half a step of the display, where the error is so small that it can only leave the rounding
    /// of the display out; else nothing.
    pub of_step: Exact,
    /// What a reading counts from: the zero of the instrument's unit, in base units.
    pub zero: Exact,
    /// The greatest reading, or all of the scale where it goes below zero (common practice).
    pub full_scale: Exact,
    /// As written.
    pub written: String,
}

impl InstrumentError {
    /// What it is at every reading.
    pub fn constant(&self) -> Exact {
        &self.fixed + &self.of_step + &self.of_full_scale * &self.full_scale
    }

    /// What it is at a value.
    pub fn at(&self, value: &Exact) -> Exact {
        self.constant() + &self.of_reading * (value - &self.zero).abs()
    }

    /// The greatest that it is within a range; none where it grows without end.
    pub fn over(&self, range: &Range) -> Option<Exact> {
        if self.of_reading == Exact::from_integer(0.into()) {
            return Some(self.constant());
        }
        let (lower, upper) = (range.lower.as_ref()?, range.upper.as_ref()?);
        Some(self.at(&lower.value).max(self.at(&upper.value)))
    }
}

/// How a limit turns a reading into a verdict (JCGM 106: simple and guarded acceptance).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Rule {
    /// The reading is taken for the true value.
    #[default]
    Simple,
    /// Accepted only where the true value is inside, refused only where it is outside; between the
    /// two the verdict is undecided.
    Guarded,
    /// Accepted only where the true value is inside, and refused everywhere else.
    GuardedAcceptance,
}

impl Rule {
    /// Whether it keeps off the limit by what a reading may be wrong.
    #[must_use]
    pub fn guards(self) -> bool {
        match self {
            Self::Simple => false,
            Self::Guarded | Self::GuardedAcceptance => true,
        }
    }
}

/// How far a shown value may lie from the true one: `constant + share × |value − zero|`, each made of
/// an error that is never exceeded and of a standard uncertainty.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Doubt {
    /// Never exceeded: constant and share.
    pub bound: (Exact, Exact),
    /// A standard uncertainty, of normal errors: constant and share.
    pub uncertainty: (Exact, Exact),
    /// What the share counts from.
    pub zero: Exact,
}

impl Doubt {
    /// Whether some of it is only likely: a standard uncertainty, of which 95 of 100 are spoken.
    pub fn is_normal(&self) -> bool {
        !self.uncertainty.0.is_zero() || !self.uncertainty.1.is_zero()
    }

    /// Of a value whose error is nowhere greater than this.
    pub fn within(greatest: Exact) -> Self {
        let nothing = || Exact::from_integer(0.into());
        let pair = (greatest, nothing());
        Self { bound: pair, uncertainty: (nothing(), nothing()), zero: nothing() }
    }

    /// Of a value shown by an instrument with this greatest error.
    pub fn of(error: &InstrumentError) -> Self {
        let mut doubt = Self::within(error.constant());
        doubt.bound.1 = error.of_reading.clone();
        doubt.zero = error.zero.clone();
        doubt
    }

    /// Of a value shown by an instrument with this standard uncertainty.
    pub fn normal(uncertainty: &InstrumentError) -> Self {
        let doubt = Self::of(uncertainty);
        Self { bound: doubt.uncertainty, uncertainty: doubt.bound, zero: doubt.zero }
    }

    /// Of a value with this standard uncertainty.
    pub fn with_uncertainty(uncertainty: Exact) -> Self {
        let doubt = Self::within(uncertainty);
        Self { bound: doubt.uncertainty, uncertainty: doubt.bound, zero: doubt.zero }
    }

    /// The guard band of a limit; none where the error is as great as the reading.
    pub fn guard(&self, range: &Range) -> Option<Guard> {
        let one_sided = ratio(ONE_SIDED);
        let far = range.width().is_none_or(|width| {
            width >= self.uncertainty_over(range) * Exact::from_integer(FAR_APART.into())
        });
        let times = if far { one_sided } else { ratio(TWO_SIDED) };
        let constant = &self.bound.0 + &self.uncertainty.0 * &times;
        let share = &self.bound.1 + &self.uncertainty.1 * &times;
        let (less, more) = (Exact::one() - &share, Exact::one() + &share);
        if !less.is_positive() {
            return None;
        }
        // The greatest reading whose true value is surely not above a limit, and the greatest whose
        // true value may yet be below it: `reading ± (constant + share × |reading|) = limit`.
        let surely = |limit: &Exact| {
            let left = limit - &constant;
            if left.is_negative() { left / &less } else { left / &more }
        };
        let perhaps = |limit: &Exact| {
            let left = limit + &constant;
            if left.is_negative() { left / &more } else { left / &less }
        };
        let band = |limit: Exact| Band {
            inward: &limit - surely(&limit),
            outward: perhaps(&limit) - &limit,
        };
        let lower = range.lower.as_ref().map(|end| band(&self.zero - &end.value));
        let upper = range.upper.as_ref().map(|end| band(&end.value - &self.zero));
        Some(Guard { lower, upper })
    }

    /// The greatest standard uncertainty at the ends of a range.
    pub fn uncertainty_over(&self, range: &Range) -> Exact {
        let ends = [&range.lower, &range.upper].into_iter().flatten();
        let at_ends = ends.map(|end| self.at(&self.uncertainty, &end.value)).max();
        at_ends.unwrap_or_else(|| self.uncertainty.0.clone())
    }

    fn at(&self, (constant, share): &(Exact, Exact), value: &Exact) -> Exact {
        constant + share * (value - &self.zero).abs()
    }
}

fn ratio((above, below): (i64, i64)) -> Exact {
    Exact::new(above.into(), below.into())
}

/// How far inside a limit readings must lie to be accepted, and how far outside to be refused.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Guard {
    /// At the lower end.
    pub lower: Option<Band>,
    /// At the upper end.
    pub upper: Option<Band>,
}

/// The band around one end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Band {
    /// Readings are accepted from here inward.
    pub inward: Exact,
    /// Readings are refused from here outward.
    pub outward: Exact,
}

/// What a limit says of a reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Judgement {
    /// It is inside.
    Accepted,
    /// It is outside.
    Refused,
    /// It may be either.
    Undecided,
}

impl Guard {
    /// Of a limit that moves: bands that are whole steps of what is read, so that whoever reckons the limit adds and
    /// takes off what is printed. Wider and never narrower.
    #[must_use]
    pub fn in_steps_of(self, grid: &Grid) -> Self {
        let up = |by: &Exact| Rounding::Up.to_step(by, grid.step());
        let wider = |band: Band| Band { inward: up(&band.inward), outward: up(&band.outward) };
        Self { lower: self.lower.map(wider), upper: self.upper.map(wider) }
    }

    /// Of a limit that stands: what is accepted, and what is not refused, ends at a figure that is read, which is the
    /// one that is printed. Of a value that is read, an end that does not itself belong to the limit may stay where it is: nothing
    /// is read between two digits. A value that is worked out (`between`) may lie there.
    #[must_use]
    pub fn at_digits_of(self, grid: &Grid, limit: &Range, between: bool) -> Self {
        let moved = |end: &Option<Bound>| end.clone().filter(|end| end.closed || between);
        let drawn = |band: Band, end: Option<Bound>, lower: bool| {
            let Some(end) = end else { return band };
            let (sign, rounding) =
                if lower { (Exact::one(), Rounding::Up) } else { (-Exact::one(), Rounding::Down) };
            let to =
                |by: &Exact| (grid.snap(&(&end.value + &sign * by), rounding) - &end.value) * &sign;
            Band { inward: to(&band.inward), outward: -to(&-&band.outward) }
        };
        Self {
            lower: self.lower.map(|band| drawn(band, moved(&limit.lower), true)),
            upper: self.upper.map(|band| drawn(band, moved(&limit.upper), false)),
        }
    }

    /// Of a value that cannot be read again: what is not surely inside counts as outside.
    #[must_use]
    pub fn never_undecided(self) -> Self {
        let shut = |band: Band| Band { outward: -&band.inward, inward: band.inward };
        Self { lower: self.lower.map(shut), upper: self.upper.map(shut) }
    }

    /// Whether some reading is neither accepted nor refused.
    #[must_use]
    pub fn may_be_undecided(&self) -> bool {
        let open = |band: &Band| band.outward != -&band.inward;
        self.lower.iter().chain(&self.upper).any(open)
    }

    /// The readings that are accepted, of a limit.
    pub fn accepted(&self, limit: &Range) -> Range {
        moved(limit, self, |band| band.inward.clone())
    }

    /// The readings that are not refused, of a limit.
    pub fn not_refused(&self, limit: &Range) -> Range {
        moved(limit, self, |band| -&band.outward)
    }
}

/// A limit whose ends are moved inward by so much.
fn moved(limit: &Range, guard: &Guard, by: impl Fn(&Band) -> Exact) -> Range {
    let by = |band: &Option<Band>| band.as_ref().map_or_else(|| Exact::from_integer(0.into()), &by);
    let (lower_by, upper_by) = (by(&guard.lower), by(&guard.upper));
    let lower = limit.lower.as_ref();
    let upper = limit.upper.as_ref();
    Range {
        lower: lower.map(|end| Bound { value: &end.value + lower_by, closed: end.closed }),
        upper: upper.map(|end| Bound { value: &end.value - upper_by, closed: end.closed }),
    }
}

/// What a limit says of readings, each of which must lie inside it.
pub fn judge(limit: &Range, guard: Option<&Guard>, readings: &[Exact]) -> Judgement {
    let Some(guard) = guard else {
        let inside = readings.iter().all(|reading| limit.contains(reading));
        return if inside { Judgement::Accepted } else { Judgement::Refused };
    };
    let (accepted, not_refused) = (guard.accepted(limit), guard.not_refused(limit));
    if readings.iter().any(|reading| !not_refused.contains(reading)) {
        Judgement::Refused
    } else if readings.iter().all(|reading| accepted.contains(reading)) {
        Judgement::Accepted
    } else {
        Judgement::Undecided
    }
}

/// What a limit is held with: the greatest error of the value that it judges, and how that stands to
/// what it accepts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Capability {
    /// The limit, with the other side that `expect` or the sum itself gives a one-sided one; none:
    /// nothing gives it one.
    pub accepted: Option<Range>,
    /// The limit alone.
    pub limit: Range,
    /// The greatest error of the value where the limit decides; none: not stated.
    pub error: Option<Exact>,
    /// How far it may be from the true one, where a verdict can be guarded by it.
    pub doubt: Option<Doubt>,
    /// What the value usually is: 95 of 100 jobs; none: not stated.
    pub usually: Option<Range>,
    /// Whether one error makes the value, and so has its shape: that of its reading, or that of the one instrument
    /// of all its readings, taken to be the same at each.
    pub single: bool,
    /// What each instrument adds to the error of a weighted sum; none where that is not known.
    pub causes: Option<Causes>,
    /// As written.
    pub written: String,
}

impl Capability {
    /// Half the accepted width to the greatest error of the value; none where either is not known.
    pub fn ratio(&self) -> Option<Exact> {
        let width = self.accepted.as_ref()?.width()?;
        let error = self.error.as_ref().filter(|error| error.is_positive())?;
        Some(width / (error * Exact::from_integer(2.into())))
    }
}

/// What makes the error of a weighted sum: one figure for each instrument in it. What it adds at several readings is added up,
/// whatever their signs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Causes {
    /// Greatest errors.
    pub alike: Vec<Exact>,
    /// Standard uncertainties.
    pub normal: Vec<Exact>,
    /// Whether one instrument counts with both signs.
    pub unlike: bool,
}

impl Causes {
    /// How many instruments.
    pub fn count(&self) -> usize {
        self.alike.len() + self.normal.len()
    }

    /// The square of the combined standard uncertainty, the instruments being independent (JCGM 100, 5.1.2: from memory):
    /// of a greatest error a, within which all is alike, that is a²/3 (4.3.7).
    pub fn variance(&self) -> Exact {
        let squares = |all: &[Exact]| all.iter().map(|one| one * one).sum::<Exact>();
        squares(&self.normal) + squares(&self.alike) / Exact::from_integer(3.into())
    }
}

/// How a step of a display stands to the width of a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Steps {
    /// A tenth of it at most.
    Fine,
    /// A fifth at most.
    Fair,
    /// More: the limit is kept at a few places only.
    Coarse,
}

/// A tenth of the width is good, a fifth is the worst that will do (common practice).
pub fn steps(step: &Exact, width: &Exact) -> Steps {
    let times = |count: i64| step * Exact::from_integer(count.into());
    if times(10) <= *width {
        Steps::Fine
    } else if times(5) <= *width {
        Steps::Fair
    } else {
        Steps::Coarse
    }
}

/// `2.2:1`, rounded down so that it is never said to be better than it is.
pub fn ratio_said(ratio: &Exact) -> String {
    // Of less than a tenth the first digit says more than a nought.
    let decimals = if *ratio < Exact::new(1.into(), 10.into()) { 2 } else { 1 };
    let step = if decimals == 1 { 10 } else { 100 };
    let rounded = Rounding::Down.to_step(ratio, &Exact::new(1.into(), step.into()));
    if rounded.is_zero() && ratio.is_positive() {
        return "less than 0.01:1".to_owned();
    }
    let decimals = if rounded.is_integer() { 0 } else { decimals };
    format!("{}:1", to_decimal(&rounded, decimals))
}

/// From which capability ratio on a check is good enough, and the rule by which it decides.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Metrology {
    /// How limits decide where the author says nothing.
    pub rule: Rule,
    /// Below this ratio a check is an error.
    pub least: Exact,
    /// Below this ratio a check is a warning.
    pub fair: Exact,
    /// From this ratio on a check is good.
    pub good: Exact,
}

impl Default for Metrology {
    /// Below 1:1 no reading is surely inside (by definition); 4:1 at least and 10:1 for good are
    /// common practice, 4:1 also in ANSI/NCSL Z540.3 for another ratio (from memory).
    fn default() -> Self {
        let whole = |number: i64| Exact::from_integer(number.into());
        Self { rule: Rule::Simple, least: whole(1), fair: whole(4), good: whole(10) }
    }
}
