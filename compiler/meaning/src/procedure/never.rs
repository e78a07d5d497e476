//! Arms of a `when` that nothing leads into which its readings can be there.

use super::laying::{Laying, Level};
use super::said;
use super::settled::beyond;
use crate::findings::readings::NeverSo;
use locknut_finding::Span;
use locknut_graph::{Condition, Expression, ReadingId, Test};
use locknut_quantity::Limit;

/// A test of a figure that never comes out so.
struct Never<'c> {
    value: &'c Expression,
    limit: &'c Limit,
    written: &'c str,
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
        holds: bool,
        level: Level,
        alone: Option<ReadingId>,
    ) {
        // What never comes behind one caller's lines may come behind another's; by itself the subtask is judged, too.
        let by_proof =
            level == Level::Steps && alone.is_some_and(|reading| !self.settled_by_a_sum(reading));
        if by_proof || self.under_way.len() > 1 {
            return;
        }
        let Some(never) = self.never_so(condition, holds) else { return };
        let possible = self.possible(never.value);
        let decimals = never.limit.decimals;
        let can_be = said::range(&self.world.units, &possible.range, never.limit, decimals);
        let (written, at) = (never.written.to_owned(), never.at);
        self.found.add(&NeverSo { written, at, can_be, otherwise: !holds });
    }

    /// A test that stands in the way of all that comes here, whatever it is worked out from.
    fn never_so<'c>(&self, condition: &'c Condition, holds: bool) -> Option<Never<'c>> {
        match condition {
            Condition::Not(inner) => self.never_so(inner, !holds),
            Condition::All(parts) | Condition::Any(parts)
                if holds == matches!(condition, Condition::All(_)) =>
            {
                parts.iter().find_map(|part| self.never_so(part, holds))
            }
            Condition::Test(Test::Within { value, limit, written, span }) => {
                let range = if holds { Some(limit.range.clone()) } else { beyond(&limit.range) };
                let never = self.possible(value).within(&range?).is_none();
                never.then_some(Never { value, limit, written, at: *span })
            }
            Condition::All(_)
            | Condition::Any(_)
            | Condition::Always(_)
            | Condition::Test(Test::Is { .. } | Test::Proved { .. } | Test::Held { .. }) => None,
        }
    }
}
