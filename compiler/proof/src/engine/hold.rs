//! Waited times: counted only in waits, and only from the last write.

use locknut_graph::{StepId, VariableId};
use locknut_quantity::Exact;
use num_traits::Zero;
use std::collections::BTreeMap;

/// How long a watched variable has certainly had its value, up to the longest time asked for.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Waited {
    /// Seconds since the last write.
    pub(crate) seconds: Exact,
    /// The same at the end of each step that a wait counts from; gone once it is written again, since
    /// what was written after that end gains nothing for certain from `wait … since`.
    at_end: BTreeMap<StepId, Exact>,
}

impl Waited {
    pub(crate) fn none() -> Self {
        Self { seconds: Exact::zero(), at_end: BTreeMap::new() }
    }

    pub(crate) fn for_so_long(seconds: &Exact, most: &Exact) -> Self {
        Self { seconds: seconds.min(most).clone(), at_end: BTreeMap::new() }
    }

    pub(crate) fn write(&mut self) {
        *self = Self::none();
    }

    pub(crate) fn wait(&mut self, seconds: &Exact, most: &Exact) {
        self.seconds = (&self.seconds + seconds).min(most.clone());
    }

    pub(crate) fn step_ends(&mut self, step: StepId) {
        self.at_end.insert(step, self.seconds.clone());
    }

    /// A floor, not a sum.
    pub(crate) fn wait_since(&mut self, seconds: &Exact, step: StepId, most: &Exact) {
        if let Some(then) = self.at_end.get(&step) {
            let floor = (then + seconds).min(most.clone());
            if floor > self.seconds {
                self.seconds = floor;
            }
        }
    }
}

/// Waited times of the watched variables.
pub(crate) type Times = BTreeMap<VariableId, Waited>;
