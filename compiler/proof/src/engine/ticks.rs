//! Waited times as small whole numbers.

use locknut_graph::{Effect, Moment, StepGraph, Test, VariableId};
use locknut_quantity::Exact;
use num_integer::Integer as _;
use num_traits::{ToPrimitive as _, Zero as _};
use std::collections::{BTreeMap, BTreeSet};

/// Waited times as whole numbers of the longest unit that fits them all.
pub(crate) struct Ticks {
    unit: Exact,
    /// The longest time that anything asks of a variable, in ticks.
    pub(crate) longest: BTreeMap<VariableId, u64>,
    /// Moments from which waits count.
    pub(crate) moments: Vec<Moment>,
}

/// Finer than this no time is told apart: waits count for less, what is asked for more.
const MOST_TICKS: u32 = 1 << 30;

impl Ticks {
    pub(crate) fn of(graph: &StepGraph) -> Self {
        let mut asked: BTreeMap<VariableId, Exact> = BTreeMap::new();
        let mut times: Vec<&Exact> = Vec::new();
        let conditions = graph.conditions();
        for condition in &conditions {
            for test in condition.tests() {
                if let Test::Held { variable, seconds, .. } = test {
                    times.push(seconds);
                    let longest = asked.entry(*variable).or_insert_with(|| seconds.clone());
                    if seconds > longest {
                        longest.clone_from(seconds);
                    }
                }
            }
        }
        if asked.is_empty() {
            return Self {
                unit: Exact::from_integer(1.into()),
                longest: BTreeMap::new(),
                moments: Vec::new(),
            };
        }
        let mut moments = BTreeSet::new();
        for effect in graph.effects() {
            match effect {
                Effect::Wait { seconds } => times.push(seconds),
                Effect::WaitSince { seconds, moment } => {
                    times.push(seconds);
                    moments.insert(*moment);
                }
                Effect::Set { .. }
                | Effect::Prove { .. }
                | Effect::Mark { .. }
                | Effect::Take { .. }
                | Effect::Void { .. }
                | Effect::Afresh { .. }
                | Effect::LeaveBlocks => {}
            }
        }
        times.extend(graph.starts_held.iter().map(|(_, seconds)| seconds));
        let unit = times
            .iter()
            .filter(|time| !time.is_zero())
            .fold(Exact::zero(), |unit, time| gcd(&unit, time));
        let most = asked.values().max().cloned().unwrap_or_else(Exact::zero);
        let coarse = &most / Exact::from_integer(MOST_TICKS.into());
        let unit = if unit > coarse { unit } else { coarse };
        let unit = if unit.is_zero() { Exact::from_integer(1.into()) } else { unit };
        let mut ticks =
            Self { unit, longest: BTreeMap::new(), moments: moments.into_iter().collect() };
        ticks.longest = asked.iter().map(|(id, time)| (*id, ticks.at_least(time))).collect();
        ticks
    }

    /// What is asked: never less than it is.
    pub(crate) fn at_least(&self, time: &Exact) -> u64 {
        (time / &self.unit).ceil().to_integer().to_u64().unwrap_or(u64::from(MOST_TICKS))
    }

    /// What has passed: never more than it is.
    pub(crate) fn at_most(&self, time: &Exact) -> u64 {
        (time / &self.unit).floor().to_integer().to_u64().unwrap_or(u64::from(MOST_TICKS))
    }

    pub(crate) fn seconds(&self, ticks: u64) -> Exact {
        &self.unit * Exact::from_integer(ticks.into())
    }
}

fn gcd(one: &Exact, other: &Exact) -> Exact {
    let numerator = (one.numer() * other.denom()).gcd(&(other.numer() * one.denom()));
    Exact::new(numerator, one.denom() * other.denom())
}
