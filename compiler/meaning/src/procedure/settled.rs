//! What a verdict has settled of a reading: behind `accept 2.00 .. 4.00 mm otherwise refer to "…"` it is one of these.
//!
//! It counts on every way that comes to a line: inside an arm or a `when` for that arm, behind several arms for all that
//! go on, in a freed child or a lane for nobody beside it. What was settled of a worked-out value bounds whatever else is
//! worked out from the same readings (`coverage/linear.rs`).

use super::coverage::Knowns;
use super::here::{Fork, Stretch};
use super::laying::Laying;
use super::said;
use locknut_finding::Span;
use locknut_graph::{ActKind, Condition, Expression, Leads, ReadingId, ReadingKind, Test, Verdict};
use locknut_quantity::{Bound, Range};
use std::collections::BTreeMap;

/// What has been settled by the lines above.
#[derive(Debug, Default)]
pub(super) struct Settled {
    made: Vec<Narrowed>,
    /// How many there were where each of the open stretches begins.
    open: Vec<usize>,
}

/// A reading that can come to less than before.
#[derive(Clone, Debug)]
struct Narrowed {
    reading: ReadingId,
    before: Range,
    /// Whether something was settled of it before.
    again: bool,
    to: Range,
    /// The line that says so.
    by: Span,
}

/// A stretch that was left, with what was settled in it.
#[derive(Debug)]
pub(super) struct Closed {
    stretch: Option<Stretch>,
    settled: Vec<Narrowed>,
}

/// The reading of an act, and what its outcomes say of it.
pub(super) struct Outcomes {
    reading: ReadingId,
    accepted: Option<Range>,
    arms: Vec<Option<Range>>,
    line: Span,
}

impl Outcomes {
    /// None: the act reads nothing, or nothing follows from it. What is worked out for a limit is not known here.
    pub(super) fn of(kind: &ActKind, line: Span) -> Option<Self> {
        let reading = kind.reading()?;
        Some(match kind.verdict()? {
            Verdict::None | Verdict::Accept { computed: Some(_), .. } => return None,
            Verdict::Accept { limit, computed: None } => {
                // Where the job waits for a better instrument, that one may accept more.
                let sure = limit.guard.as_ref().filter(|guard| !guard.may_be_undecided());
                let range = &limit.limit.range;
                let accepted = sure.map_or_else(|| range.clone(), |guard| guard.accepted(range));
                Self { reading, accepted: Some(accepted), arms: Vec::new(), line }
            }
            Verdict::Arms(arms) => {
                let range = |arm: &locknut_graph::ActArm| Some(arm.range.as_ref()?.range.clone());
                Self { reading, accepted: None, arms: arms.iter().map(range).collect(), line }
            }
        })
    }

    /// What it is on some of the ways of its arms: from the least to the greatest of theirs.
    fn on(&self, ways: &[u16]) -> Option<Range> {
        let mut ranges = ways.iter().map(|way| self.arms.get(usize::from(*way))?.as_ref());
        let first = ranges.next()??.clone();
        ranges.try_fold(first, |all, range| Some(all.hull(range?)))
    }
}

impl Laying<'_> {
    /// Opens an arm or a block that only some ways go through.
    pub(super) fn enter_arm(&mut self) {
        self.here.enter_arm();
        self.settled.open.push(self.settled.made.len());
    }

    /// Opens an arm of a reading.
    pub(super) fn enter_arm_of(&mut self, fork: Fork) {
        self.here.enter_arm_of(fork);
        self.settled.open.push(self.settled.made.len());
    }

    /// Opens a freed child or a lane.
    pub(super) fn enter_child(&mut self) {
        self.here.enter_child();
        self.settled.open.push(self.settled.made.len());
    }

    /// Closes the innermost stretch: what was settled in it does not count behind it.
    pub(super) fn leave(&mut self) -> Closed {
        let stretch = self.here.leave();
        let from = self.settled.open.pop().unwrap_or_default();
        let settled = self.settled.made.split_off(from.min(self.settled.made.len()));
        settled.iter().rev().for_each(|one| one.undo(&mut self.knowns));
        Closed { stretch, settled }
    }

    /// Nobody comes from this stretch to what is written behind it.
    pub(super) fn is_over(&mut self, closed: &Closed, leads: &Leads) {
        if matches!(leads, Leads::Refer { .. } | Leads::Stop { .. }) {
            self.here.is_over(closed.stretch);
        }
    }

    /// Every way on has gone through this stretch.
    pub(super) fn is_certain(&mut self, closed: &Closed) {
        self.here.is_certain(closed.stretch);
        for Narrowed { reading, to, by, .. } in &closed.settled {
            self.settle(*reading, to, *by);
        }
    }

    /// Behind an act whose reading was accepted on all ways that go on.
    pub(super) fn settle_accepted(&mut self, outcomes: Option<&Outcomes>) {
        let Some(outcomes) = outcomes else { return };
        if let Some(range) = &outcomes.accepted {
            self.settle(outcomes.reading, range, outcomes.line);
        }
    }

    /// Inside an arm, and behind all that go on.
    pub(super) fn settle_on(&mut self, outcomes: Option<&Outcomes>, ways: &[u16]) {
        let Some(outcomes) = outcomes else { return };
        if let Some(range) = outcomes.on(ways) {
            self.settle(outcomes.reading, &range, outcomes.line);
        }
    }

    /// What is left of the readings that an act rests on, where some of it was sent away above.
    pub(super) fn settled_of(&self, kind: &ActKind) -> BTreeMap<ReadingId, Range> {
        let rests_on = kind.rests_on();
        let narrowed = self.settled.made.iter().filter(|one| rests_on.contains(&one.reading));
        // The last of several has the narrowest.
        narrowed.map(|one| (one.reading, one.to.clone())).collect()
    }

    /// Ways come here past some of the lines above: nothing that they settled counts.
    pub(super) fn unsettle(&mut self) {
        let made = std::mem::take(&mut self.settled.made);
        made.iter().rev().for_each(|one| one.undo(&mut self.knowns));
    }

    /// Inside a `when`, and inside its `otherwise`.
    pub(super) fn settle_when(&mut self, condition: &Condition, holds: bool, by: Span) {
        match condition {
            Condition::Not(inner) => self.settle_when(inner, !holds, by),
            Condition::All(parts) | Condition::Any(parts)
                if holds == matches!(condition, Condition::All(_)) =>
            {
                for part in parts {
                    self.settle_when(part, holds, by);
                }
            }
            Condition::Test(Test::Within {
                value: Expression::Reading(reading), limit, ..
            }) => {
                let range = if holds { Some(limit.range.clone()) } else { beyond(&limit.range) };
                let single = self.knowns.get(reading).is_some_and(|known| known.points == 1);
                if let Some(range) = range.filter(|_| single) {
                    self.settle(*reading, &range, by);
                }
            }
            // Which part of it is so nobody knows; of the machine's states no reading tells here.
            Condition::All(_)
            | Condition::Any(_)
            | Condition::Always(_)
            | Condition::Test(
                Test::Within { .. } | Test::Is { .. } | Test::Proved { .. } | Test::Held { .. },
            ) => {}
        }
    }

    /// A reading of which nothing is left on this way of a `when`.
    pub(super) fn never(&self, condition: &Condition, holds: bool) -> Option<ReadingId> {
        match condition {
            Condition::Not(inner) => self.never(inner, !holds),
            Condition::All(parts) | Condition::Any(parts)
                if holds == matches!(condition, Condition::All(_)) =>
            {
                parts.iter().find_map(|part| self.never(part, holds))
            }
            Condition::Test(Test::Within {
                value: Expression::Reading(reading), limit, ..
            }) => {
                let known = self.knowns.get(reading).filter(|known| known.points == 1)?;
                let range = if holds { Some(limit.range.clone()) } else { beyond(&limit.range) };
                known.possible.within(&range?).is_none().then_some(*reading)
            }
            Condition::All(_)
            | Condition::Any(_)
            | Condition::Always(_)
            | Condition::Test(
                Test::Within { .. } | Test::Is { .. } | Test::Proved { .. } | Test::Held { .. },
            ) => None,
        }
    }

    /// All that a reading can be here, in words, and the line that settled it: that which reads it, where no other did.
    pub(super) fn can_be(&self, reading: ReadingId) -> Option<(String, Span)> {
        let (known, of) =
            (self.knowns.get(&reading)?, self.build.readings.get(usize::from(reading.0))?);
        let ReadingKind::Quantity { unit, decimals, .. } = &of.kind else { return None };
        let can_be = said::range(&self.world.units, &known.possible.range, *unit, *decimals);
        let last = self.settled.made.iter().rev().find(|one| one.reading == reading);
        Some((can_be, last.map_or(of.span, |one| one.by)))
    }

    fn settle(&mut self, reading: ReadingId, range: &Range, by: Span) {
        let Some(known) = self.knowns.get_mut(&reading) else { return };
        // Where nothing of it is possible, that is told of the line that says so.
        let Some(to) = known.possible.within(range) else { return };
        if to != known.possible.range {
            let before = std::mem::replace(&mut known.possible.range, to.clone());
            let again = std::mem::replace(&mut known.settled, true);
            self.settled.made.push(Narrowed { reading, before, again, to, by });
        }
    }
}

impl Narrowed {
    fn undo(&self, knowns: &mut Knowns) {
        if let Some(known) = knowns.get_mut(&self.reading) {
            known.possible.range.clone_from(&self.before);
            known.settled = self.again;
        }
    }
}

/// What lies outside of a range that has one end.
fn beyond(range: &Range) -> Option<Range> {
    let beside = |end: &Bound| Some(Bound { value: end.value.clone(), closed: !end.closed });
    match (&range.lower, &range.upper) {
        (Some(lower), None) => Some(Range { lower: None, upper: beside(lower) }),
        (None, Some(upper)) => Some(Range { lower: beside(upper), upper: None }),
        (Some(_), Some(_)) | (None, None) => None,
    }
}
