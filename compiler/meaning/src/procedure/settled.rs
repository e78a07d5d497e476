//! What a verdict has settled of a reading: behind `accept 2.00 .. 4.00 mm otherwise refer to "…"` it is one of these.
//!
//! It counts on every way that comes to a line: inside an arm or a `when` for that arm, behind several arms for all that
//! go on, in a freed child or a lane for nobody beside it. What was settled of a worked-out value bounds whatever else is
//! worked out from the same readings (`coverage/linear.rs`).

use super::coverage::{Atom, Knowns, Linear, Possible, settled_sums};
use super::here::{Fork, Stretch};
use super::laying::Laying;
use super::said;
use locknut_finding::Span;
use locknut_graph::{
    ActKind, Condition, Expression, Leads, NodeId, ReadingId, ReadingKind, Test, Verdict,
};
use locknut_quantity::{Bound, Exact, Range};
use num_traits::Signed;
use std::collections::BTreeMap;

/// What has been settled by the lines above.
#[derive(Debug, Default)]
pub(super) struct Settled {
    made: Vec<Narrowed>,
    /// How many there were where each of the open stretches begins.
    open: Vec<usize>,
}

/// Something that can come to less than before.
#[derive(Clone, Debug)]
struct Narrowed {
    of: Of,
    to: Range,
    /// The line that says so.
    by: Span,
    /// Said of something that is worked out from it.
    worked_out: bool,
}

/// What can come to less.
#[derive(Clone, Debug)]
enum Of {
    /// A reading; how it was before, and whether something was settled of it then.
    Reading { reading: ReadingId, before: Range, again: bool },
    /// A sum of readings that has no name of its own.
    Sum(Linear),
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
    /// What it is worked out from, where that is not read.
    value: Option<Expression>,
    accepted: Option<Range>,
    arms: Vec<Option<Range>>,
    line: Span,
}

impl Outcomes {
    /// None: the act reads nothing, or nothing follows from it. What is worked out for a limit is not known here.
    pub(super) fn of(kind: &ActKind, line: Span) -> Option<Self> {
        let reading = kind.reading()?;
        let value =
            if let ActKind::Check { value, .. } = kind { Some(value.clone()) } else { None };
        Some(match kind.verdict()? {
            Verdict::None | Verdict::Accept { computed: Some(_), .. } => return None,
            Verdict::Accept { limit, computed: None } => {
                // Where the job waits for a better instrument, that one may accept more.
                let sure = limit.guard.as_ref().filter(|guard| !guard.may_be_undecided());
                let range = &limit.limit.range;
                let accepted = sure.map_or_else(|| range.clone(), |guard| guard.accepted(range));
                Self { reading, value, accepted: Some(accepted), arms: Vec::new(), line }
            }
            Verdict::Arms(arms) => {
                let range = |arm: &locknut_graph::ActArm| Some(arm.range.as_ref()?.range.clone());
                let arms = arms.iter().map(range).collect();
                Self { reading, value, accepted: None, arms, line }
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

    /// Opens an arm of a `when`, or its `otherwise`.
    pub(super) fn enter_when(&mut self, fork: Fork, condition: &Condition, holds: bool) {
        match self.asks_of_readings(condition, holds) {
            Some(asked) => {
                self.here.enter_arm_where(fork, asked);
                self.settled.open.push(self.settled.made.len());
            }
            None => self.enter_arm(),
        }
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
        for Narrowed { of, to, by, worked_out } in &closed.settled {
            match of {
                Of::Reading { reading, .. } => self.settle(*reading, to, (*by, *worked_out)),
                Of::Sum(sum) => self.settle_sum(sum.clone(), to, *by),
            }
        }
    }

    /// Behind an act whose reading was accepted on all ways that go on.
    pub(super) fn settle_accepted(&mut self, outcomes: Option<&Outcomes>) {
        let Some(outcomes) = outcomes else { return };
        if let Some(range) = &outcomes.accepted {
            self.settle_outcome(outcomes, range);
        }
    }

    /// Behind a choice that every way on has gone through with something that fits.
    pub(super) fn settle_chosen(&mut self, node: NodeId) {
        let act = self.build.flow.node_weight(node).and_then(locknut_graph::Node::act);
        let Some(ActKind::Choose(choice)) = act.map(|act| &act.kind) else { return };
        let (value, range, by) = (choice.value.clone(), choice.range.range.clone(), choice.span);
        self.settle_value(&value, &range, by);
    }

    /// Inside an arm, and behind all that go on.
    pub(super) fn settle_on(&mut self, outcomes: Option<&Outcomes>, ways: &[u16]) {
        let Some(outcomes) = outcomes else { return };
        if let Some(range) = outcomes.on(ways) {
            self.settle_outcome(outcomes, &range);
        }
    }

    /// What a reading comes to bounds what it is worked out from: of a sum its reading knows that, of a quotient these do.
    fn settle_outcome(&mut self, outcomes: &Outcomes, range: &Range) {
        self.settle(outcomes.reading, range, (outcomes.line, false));
        let sum = self.knowns.get(outcomes.reading).is_some_and(|known| known.sum.is_some());
        if let Some(value) = outcomes.value.as_ref().filter(|_| !sum) {
            self.settle_value(value, range, outcomes.line);
        }
    }

    /// What is left of the readings that an act rests on, where some of it was sent away above.
    pub(super) fn settled_of(&self, kind: &ActKind) -> BTreeMap<ReadingId, Range> {
        let rests_on = kind.rests_on();
        let narrowed = self.settled.made.iter().filter_map(|one| Some((one.reading()?, &one.to)));
        let narrowed = narrowed.filter(|(reading, _)| rests_on.contains(reading));
        // The last of several has the narrowest.
        narrowed.map(|(reading, to)| (reading, to.clone())).collect()
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
                let single = self.knowns.get(*reading).is_some_and(|known| known.points == 1);
                if let Some(range) = range.filter(|_| single) {
                    self.settle(*reading, &range, (by, false));
                }
            }
            Condition::Test(Test::Within { value, limit, .. }) => {
                let range = if holds { Some(limit.range.clone()) } else { beyond(&limit.range) };
                if let Some(range) = range {
                    self.settle_value(value, &range, by);
                }
            }
            // Which part of it is so nobody knows; of the machine's states no reading tells here.
            Condition::All(_)
            | Condition::Any(_)
            | Condition::Always(_)
            | Condition::Test(Test::Is { .. } | Test::Proved { .. } | Test::Held { .. }) => {}
        }
    }

    /// What each reading is on this way of a `when` that asks for nothing else; none where it asks for other things, or for
    /// one of several.
    fn asks_of_readings(
        &self,
        condition: &Condition,
        holds: bool,
    ) -> Option<Vec<(ReadingId, Possible)>> {
        match condition {
            Condition::Not(inner) => self.asks_of_readings(inner, !holds),
            Condition::All(parts) | Condition::Any(parts)
                if holds == matches!(condition, Condition::All(_)) =>
            {
                let parts = parts.iter().map(|part| self.asks_of_readings(part, holds));
                Some(parts.collect::<Option<Vec<_>>>()?.concat())
            }
            Condition::Test(Test::Within {
                value: Expression::Reading(reading), limit, ..
            }) => {
                let known = self.knowns.get(*reading).filter(|known| known.points == 1)?;
                let range = if holds { limit.range.clone() } else { beyond(&limit.range)? };
                Some(vec![(*reading, known.possible.narrowed(&range))])
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
            (self.knowns.get(reading)?, self.build.readings.get(usize::from(reading.0))?);
        let ReadingKind::Quantity { kind, unit, decimals, .. } = &of.kind else { return None };
        let said_in = said::In { unit: *unit, kind: *kind };
        let can_be = said::range(&self.world.units, &known.possible.range, said_in, *decimals);
        let last = self.settled.made.iter().rev().find(|one| one.reading() == Some(reading));
        Some((can_be, last.map_or(of.span, |one| one.by)))
    }

    /// Whether that comes of a line about something that is worked out from it.
    pub(super) fn settled_by_a_sum(&self, reading: ReadingId) -> bool {
        let last = self.settled.made.iter().rev().find(|one| one.reading() == Some(reading));
        last.is_some_and(|one| one.worked_out)
    }

    fn settle(&mut self, reading: ReadingId, range: &Range, (by, worked_out): (Span, bool)) {
        let Some(known) = self.knowns.get_mut(reading) else { return };
        // Where nothing of it is possible, that is told of the line that says so.
        let Some(to) = known.possible.within(range) else { return };
        if to != known.possible.range {
            let before = std::mem::replace(&mut known.possible.range, to.clone());
            let again = std::mem::replace(&mut known.settled, true);
            let of = Of::Reading { reading, before, again };
            self.settled.made.push(Narrowed { of, to, by, worked_out });
        }
    }

    /// What is worked out from readings lies in this range.
    fn settle_value(&mut self, value: &Expression, range: &Range, by: Span) {
        for (sum, range) in settled_sums(value, range, &self.knowns) {
            self.settle_sum(sum, &range, by);
        }
    }

    fn settle_sum(&mut self, sum: Linear, range: &Range, by: Span) {
        let mut atoms = sum.terms.iter();
        if let (Some((Atom::Point(reading, _), weight)), None) = (atoms.next(), atoms.next())
            && self.knowns.get(*reading).is_some_and(|known| known.points == 1)
        {
            let (reading, range) = (*reading, moved(range, &sum.constant, weight));
            self.settle(reading, &range, (by, true));
            return;
        }
        let possible = sum.possible(&self.knowns);
        let Some(to) = possible.within(range).filter(|to| *to != possible.range) else { return };
        self.knowns.settle(sum.clone(), to.clone());
        self.settled.made.push(Narrowed { of: Of::Sum(sum), to, by, worked_out: true });
    }
}

impl Narrowed {
    fn reading(&self) -> Option<ReadingId> {
        match &self.of {
            Of::Reading { reading, .. } => Some(*reading),
            Of::Sum(_) => None,
        }
    }

    fn undo(&self, knowns: &mut Knowns) {
        match &self.of {
            Of::Reading { reading, before, again } => {
                if let Some(known) = knowns.get_mut(*reading) {
                    known.possible.range.clone_from(before);
                    known.settled = *again;
                }
            }
            Of::Sum(_) => knowns.unsettle(),
        }
    }
}

/// What a reading lies in where so much of it and a constant lie in a range.
fn moved(range: &Range, constant: &Exact, weight: &Exact) -> Range {
    let end = |end: &Bound| Bound { value: (&end.value - constant) / weight, closed: end.closed };
    let (lower, upper) = (range.lower.as_ref().map(end), range.upper.as_ref().map(end));
    if weight.is_negative() { Range { lower: upper, upper: lower } } else { Range { lower, upper } }
}

/// What lies outside of a range that has one end.
pub(super) fn beyond(range: &Range) -> Option<Range> {
    let beside = |end: &Bound| Some(Bound { value: end.value.clone(), closed: !end.closed });
    match (&range.lower, &range.upper) {
        (Some(lower), None) => Some(Range { lower: None, upper: beside(lower) }),
        (None, Some(upper)) => Some(Range { lower: beside(upper), upper: None }),
        (Some(_), Some(_)) | (None, None) => None,
    }
}
