//! Arms of a `when` that nothing leads into which its readings can be there.

use super::coverage::uncovered;
use super::laying::{Laying, Level};
use super::said;
use super::settled::beyond;
use crate::findings::readings::{Behind, NeverSo};
use locknut_finding::Span;
use locknut_graph::{Condition, Expression, ReadingId, Test};
use locknut_quantity::{Limit, Range};

/// A test of a figure that never comes out so.
struct Never<'c> {
    value: &'c Expression,
    limit: &'c Limit,
    written: String,
    at: Span,
}

impl Laying<'_> {
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
                let known = self.knowns.get(*reading).filter(|known| known.points == 1)?;
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

    /// Says so where an arm that holds something is never gone, and the proof of the ways does not say it of a step: it
    /// reckons with single readings, and knows of no lines inside a step.
    pub(super) fn tell_never(
        &mut self,
        condition: &Condition,
        behind: Behind,
        level: Level,
        alone: Option<ReadingId>,
    ) {
        let holds = behind == Behind::Holds;
        // What never comes behind one caller's lines may come behind another's; by itself the subtask is judged, too.
        let told = |reading| !self.settled_by_a_sum(reading);
        let by_proof =
            level == Level::Steps && behind != Behind::Nothing && alone.is_some_and(told);
        if by_proof || self.under_way.len() > 1 {
            return;
        }
        let Some(never) = self.never_so(condition, holds) else { return };
        // Of several tests of one reading that contradict each other a step is told, too.
        let single = |value: &Expression| matches!(value, Expression::Reading(reading) if self.knowns.get(*reading).is_some_and(|known| known.points == 1));
        let several = matches!(condition, Condition::All(_) | Condition::Any(_));
        if level == Level::Steps && behind != Behind::Nothing && several && single(never.value) {
            return;
        }
        let possible = self.possible(never.value);
        let decimals = never.limit.decimals;
        let can_be = said::range(&self.world.units, &possible.range, never.limit, decimals);
        let (written, at) = (never.written, never.at);
        self.found.add(&NeverSo { written, at, can_be, behind });
    }

    /// A test that stands in the way of all that comes here, whatever it is worked out from.
    fn never_so<'c>(&self, condition: &'c Condition, holds: bool) -> Option<Never<'c>> {
        match condition {
            Condition::Not(inner) => self.never_so(inner, !holds),
            Condition::All(parts) | Condition::Any(parts)
                if holds == matches!(condition, Condition::All(_)) =>
            {
                let one = parts.iter().find_map(|part| self.never_so(part, holds));
                one.or_else(|| self.never_together(parts, holds))
            }
            // Where one of several is enough, none of them must be.
            Condition::All(parts) | Condition::Any(parts) => {
                let all = parts.iter().map(|part| self.never_so(part, holds));
                all.collect::<Option<Vec<_>>>()?.into_iter().next()
            }
            Condition::Test(Test::Within { value, limit, written, span }) => {
                let range = if holds { Some(limit.range.clone()) } else { beyond(&limit.range) };
                let never = self.possible(value).within(&range?).is_none();
                never.then_some(Never { value, limit, written: written.clone(), at: *span })
            }
            Condition::Always(_)
            | Condition::Test(Test::Is { .. } | Test::Proved { .. } | Test::Held { .. }) => None,
        }
    }

    /// Tests of one value that leave nothing between them: `gap over 0.60 mm and gap under 0.40 mm`; where they are not to
    /// hold, `gap over 0.40 mm or gap under 0.60 mm`.
    fn never_together<'c>(&self, parts: &'c [Condition], holds: bool) -> Option<Never<'c>> {
        let tests = || parts.iter().filter_map(within);
        tests().find_map(|(value, limit, ..)| {
            let of_it = || tests().filter(|(other, ..)| *other == value);
            let ranges: Vec<Range> = of_it().map(|(_, limit, ..)| limit.range.clone()).collect();
            let possible = self.possible(value);
            let never = ranges.len() > 1
                && if holds {
                    let all = ranges.iter().fold(Range::default(), |all, one| all.intersect(one));
                    possible.within(&all).is_none()
                } else {
                    uncovered(&possible, &ranges).is_empty()
                };
            let joined = if holds { " and " } else { " or " };
            let written: Vec<&str> = of_it().map(|(_, _, written, _)| written).collect();
            let at = of_it().map(|(.., at)| at).reduce(Span::to)?;
            never.then(|| Never { value, limit, written: written.join(joined), at })
        })
    }
}

/// A test of a figure.
fn within(part: &Condition) -> Option<(&Expression, &Limit, &str, Span)> {
    if let Condition::Test(Test::Within { value, limit, written, span }) = part {
        Some((value, limit, written, *span))
    } else {
        None
    }
}
