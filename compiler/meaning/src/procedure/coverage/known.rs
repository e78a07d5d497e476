//! What is known of the readings so far, and of sums of them.

use super::Possible;
use super::error::Uncertain;
use super::linear::Linear;
use locknut_graph::ReadingId;
use locknut_quantity::{Exact, Range};
use std::collections::BTreeMap;

/// What is known of a reading.
#[derive(Clone, Debug)]
pub(crate) struct Known {
    /// How many points it has; one for a single value.
    pub(crate) points: usize,
    /// What each point can show.
    pub(crate) possible: Possible,
    /// For a computed value: what it is computed from.
    pub(crate) sum: Option<Linear>,
    /// How far each point may be from the true one; none: not stated.
    pub(crate) doubt: Option<Uncertain>,
    /// Whether its range is what is expected, and not only what can be shown.
    pub(crate) expected: bool,
    /// Whether what it can come to was narrowed by an outcome that every way here has gone through.
    pub(crate) settled: bool,
    /// Of what a table chooses: what belongs to which values of one reading.
    pub(crate) rows: Option<Rows>,
}

impl Known {
    /// The greatest error of a point: of what grows with the reading no more than at the greatest that is left of it.
    pub(super) fn error(&self) -> Option<Exact> {
        let doubt = self.doubt.as_ref()?;
        let top = self.possible.range.upper.as_ref();
        let here = doubt.grows.as_ref().zip(top).map(|(grows, top)| grows.at(&top.value));
        here.into_iter().chain(doubt.error.clone()).min()
    }
}

/// Which value a table gives for which readings.
#[derive(Clone, Debug)]
pub(crate) struct Rows {
    /// By this reading of a single value.
    pub(crate) by: ReadingId,
    /// The stretches of it, and what belongs to each.
    pub(crate) rows: Vec<(Range, Exact)>,
}

/// A sum, and all that an outcome that every way here has gone through leaves of it.
pub(super) type Settled<'k> = (&'k Linear, &'k Range);

/// What is known of the readings so far.
#[derive(Clone, Debug, Default)]
pub(crate) struct Knowns {
    readings: BTreeMap<ReadingId, Known>,
    /// What was settled of sums that no reading stands for.
    sums: Vec<(Linear, Range)>,
}

impl Knowns {
    pub(crate) fn new() -> Self {
        Self::default()
    }

    pub(crate) fn get(&self, reading: ReadingId) -> Option<&Known> {
        self.readings.get(&reading)
    }

    pub(crate) fn get_mut(&mut self, reading: ReadingId) -> Option<&mut Known> {
        self.readings.get_mut(&reading)
    }

    pub(crate) fn insert(&mut self, reading: ReadingId, known: Known) {
        self.readings.insert(reading, known);
    }

    /// From here on a sum lies in this range.
    pub(crate) fn settle(&mut self, sum: Linear, to: Range) {
        self.sums.push((sum, to));
    }

    /// The last sum that was settled is so no more.
    pub(crate) fn unsettle(&mut self) {
        self.sums.pop();
    }

    /// Every sum that was settled.
    pub(super) fn settled(&self) -> impl Iterator<Item = Settled<'_>> {
        let settled = self.readings.values().filter(|known| known.settled);
        let worked_out =
            settled.filter_map(|known| Some((known.sum.as_ref()?, &known.possible.range)));
        worked_out.chain(self.sums.iter().map(|(sum, to)| (sum, to)))
    }
}

impl FromIterator<(ReadingId, Known)> for Knowns {
    fn from_iter<All: IntoIterator<Item = (ReadingId, Known)>>(all: All) -> Self {
        Self { readings: all.into_iter().collect(), sums: Vec::new() }
    }
}

#[cfg(test)]
impl<const MANY: usize> From<[(ReadingId, Known); MANY]> for Knowns {
    fn from(all: [(ReadingId, Known); MANY]) -> Self {
        all.into_iter().collect()
    }
}
