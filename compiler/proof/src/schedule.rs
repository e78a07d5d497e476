//! A network of activities: how long it takes, and which of them decide that.
//!
//! The critical path method, with the three-point estimates of PERT: of shortest *a*, likely *m* and
//! longest *b* the mean is (a + 4m + b) / 6 and the variance ((b − a) / 6)² (D. G. Malcolm et al.,
//! *Application of a Technique for Research and Development Program Evaluation*, Operations Research
//! 7(5), 1959; from memory). The mean of the whole is that along the longest path by means; its variance
//! is the sum along that path, and where two paths are nearly as long the true mean is somewhat greater.

use locknut_quantity::Exact;
use num_traits::Zero;

/// Something that takes time.
#[derive(Clone, Debug)]
pub struct Activity {
    /// Shortest, likely, longest.
    pub takes: (Exact, Exact, Exact),
    /// What must be done before it, by position; each earlier in the list.
    pub after: Vec<usize>,
}

/// When an activity is done, by its mean time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slot {
    /// Its mean time.
    pub mean: Exact,
    /// The square of its standard deviation.
    pub variance: Exact,
    /// When it can begin, counted from the start.
    pub earliest: Exact,
    /// When it must begin if the whole is not to take longer.
    pub latest: Exact,
}

/// A network that was worked out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Plan {
    /// The activities in the order given.
    pub slots: Vec<Slot>,
    /// How long the whole takes on the mean.
    pub mean: Exact,
    /// The variance along the longest path.
    pub variance: Exact,
    /// The longest path; of several the one of greatest variance, then the first.
    pub critical: Vec<usize>,
}

impl Slot {
    /// By how much it may be late.
    pub fn slack(&self) -> Exact {
        &self.latest - &self.earliest
    }
}

impl Activity {
    fn mean(&self) -> Exact {
        let (a, m, b) = &self.takes;
        if a == m && m == b {
            return m.clone();
        }
        (a + m * Exact::from_integer(4.into()) + b) / Exact::from_integer(6.into())
    }

    fn variance(&self) -> Exact {
        let (a, _, b) = &self.takes;
        if a == b {
            return Exact::zero();
        }
        let deviation = (b - a) / Exact::from_integer(6.into());
        &deviation * &deviation
    }
}

/// When everything is done that takes these times.
pub(crate) fn end(activities: &[Activity], time: impl Fn(&Activity) -> Exact) -> Exact {
    let mut ends: Vec<Exact> = Vec::with_capacity(activities.len());
    for activity in activities {
        let begins = latest_of(&activity.after, &ends);
        ends.push(begins + time(activity));
    }
    ends.into_iter().max().unwrap_or_default()
}

/// For how long something of a sort is under way, by the likely times; what overlaps counts once.
pub(crate) fn busy(activities: &[Activity], counts: impl Fn(usize) -> bool) -> Exact {
    let mut ends: Vec<Exact> = Vec::with_capacity(activities.len());
    let mut spans: Vec<(Exact, Exact)> = Vec::new();
    for (at, activity) in activities.iter().enumerate() {
        let begins = latest_of(&activity.after, &ends);
        let end = &begins + &activity.takes.1;
        if counts(at) {
            spans.push((begins, end.clone()));
        }
        ends.push(end);
    }
    spans.sort();
    let mut covered = Exact::zero();
    let mut so_far = Exact::zero();
    for (begins, end) in spans {
        let from = begins.max(so_far.clone());
        if end > from {
            covered += &end - &from;
            so_far = end;
        }
    }
    covered
}

fn latest_of(after: &[usize], ends: &[Exact]) -> Exact {
    after.iter().filter_map(|before| ends.get(*before)).max().cloned().unwrap_or_default()
}

/// Works a network out. What names an activity later than itself is taken as not having named it.
pub fn plan(activities: &[Activity]) -> Plan {
    let mut slots: Vec<Slot> = Vec::with_capacity(activities.len());
    let mut ends: Vec<Exact> = Vec::with_capacity(activities.len());
    // For each activity: the variance of the longest path to its end, and what stands before it there.
    let mut along: Vec<(Exact, Option<usize>)> = Vec::with_capacity(activities.len());
    for activity in activities {
        let (mean, variance) = (activity.mean(), activity.variance());
        let earliest = latest_of(&activity.after, &ends);
        let decides = |before: &&usize| ends.get(**before) == Some(&earliest);
        let spread = |before: &usize| along.get(*before).map(|(variance, _)| variance.clone());
        let before = activity.after.iter().filter(decides).copied().rev().max_by_key(spread);
        let so_far = before.as_ref().and_then(spread).unwrap_or_default();
        along.push((&so_far + &variance, before));
        ends.push(&earliest + &mean);
        slots.push(Slot { mean, variance, latest: Exact::zero(), earliest });
    }
    let mean = ends.iter().max().cloned().unwrap_or_default();
    let last = (0..ends.len()).rev().filter(|at| ends.get(*at) == Some(&mean));
    let last = last.max_by_key(|at| along.get(*at).map(|(variance, _)| variance.clone()));
    let variance = last.and_then(|at| Some(along.get(at)?.0.clone())).unwrap_or_default();
    let mut critical: Vec<usize> =
        std::iter::successors(last, |at| along.get(*at).and_then(|(_, before)| *before)).collect();
    critical.reverse();
    let mut must_end = vec![mean.clone(); activities.len()];
    for (at, activity) in activities.iter().enumerate().rev() {
        let Some(slot) = slots.get_mut(at) else { continue };
        slot.latest = must_end.get(at).cloned().unwrap_or_default() - &slot.mean;
        for before in activity.after.iter().filter(|before| **before < at) {
            if let Some(end) = must_end.get_mut(*before)
                && slot.latest < *end
            {
                end.clone_from(&slot.latest);
            }
        }
    }
    Plan { slots, mean, variance, critical }
}
