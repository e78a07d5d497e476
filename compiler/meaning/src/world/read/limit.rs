//! Limits and ranges in every form of the language.

use super::Reader;
use super::expression::Typed;
use super::figures::{lent, needs_lent};
use super::value::{Constant, constant, zero};
use crate::findings::hardware::TurnedTooFar;
use crate::findings::names::CannotBeKnown;
use crate::findings::quantities::{ImpossibleValue, OneFigure, a_kind};
use locknut_finding::{Findings, Span};
use locknut_graph::{ComputedLimit, Stage, Table};
use locknut_quantity::{Bound, Exact, KindId, Limit, Range, Rounding, UnitId, to_decimal};
use locknut_syntax::tree::{self, LimitForm};
use num_traits::{One, Signed};
use std::sync::Arc;

/// A limit whose ends are fixed, or computed from earlier readings.
#[derive(Clone, Debug)]
pub(crate) enum Bounds {
    Fixed(Limit),
    Computed { limit: ComputedLimit, kind: KindId, unit: UnitId, written: String },
}

/// The two ends as expressions, and whether each belongs.
pub(super) struct Ends {
    pub(super) lower: Option<(Typed, bool)>,
    pub(super) upper: Option<(Typed, bool)>,
}

impl Reader<'_> {
    /// A limit in any form, with fixed ends.
    pub(crate) fn limit(
        &self,
        written: &tree::Limit,
        wanted: Option<KindId>,
        found: &mut Findings,
    ) -> Option<Limit> {
        match self.bounds(written, wanted, found)? {
            Bounds::Fixed(limit) => Some(limit),
            Bounds::Computed { .. } => {
                found.add(&CannotBeKnown {
                    what: "a reading",
                    place: "a fixed limit",
                    span: written.span,
                    mend: "write the figure itself",
                });
                None
            }
        }
    }

    /// A limit in any form; its ends may be computed from readings.
    pub(crate) fn bounds(
        &self,
        written: &tree::Limit,
        wanted: Option<KindId>,
        found: &mut Findings,
    ) -> Option<Bounds> {
        if let LimitForm::Just(tree::Expression::Name(name)) = &written.form
            && self.readings.reading(&name.text).is_none()
            && let Some(named) = self.named_limit(&name.text)
        {
            let limit = named.limit.clone();
            self.same_kind(&limit, name, wanted, found)?;
            return Some(Bounds::Fixed(limit));
        }
        let ends = match self.table_of_limits(written) {
            Some((table, arguments, span)) => {
                let ends = self.looked_up_limit(table, arguments, span, found)?;
                self.of_kind(&ends, span, wanted, found)?;
                ends
            }
            None => self.ends(written, wanted, found)?,
        };
        self.settled(ends, written, found)
    }

    /// `accept stay-tension(air)`, where the table gives limits.
    pub(super) fn table_of_limits<'t>(
        &self,
        written: &'t tree::Limit,
    ) -> Option<(&Arc<Table>, &'t [tree::Expression], Span)> {
        let LimitForm::Just(tree::Expression::Call { function, arguments, span }) = &written.form
        else {
            return None;
        };
        let table = self.world.tables.get(&function.text)?;
        (!table.is_of_figures()).then_some((table, arguments.as_slice(), *span))
    }

    fn of_kind(
        &self,
        ends: &Ends,
        span: Span,
        wanted: Option<KindId>,
        found: &mut Findings,
    ) -> Option<()> {
        let (of, _) = ends.upper.as_ref().or(ends.lower.as_ref())?;
        if wanted.is_some_and(|wanted| !self.is_kind(of.kind, wanted)) {
            let kind = a_kind(self.units(), of.kind);
            let said = self.written_or(span, || "this".to_owned());
            self.wrong_kind(said, span, &[kind], wanted, found);
            return None;
        }
        Some(())
    }

    /// `takes D`, `takes D .. D` or `takes D .. D .. D`: shortest, likely, longest, in seconds.
    pub(crate) fn triple(
        &self,
        written: &tree::Limit,
        found: &mut Findings,
    ) -> Option<(Exact, Exact, Exact)> {
        let duration = self.duration_kind();
        let times = match &written.form {
            LimitForm::Just(one) => {
                let (time, _) = self.duration(one, found)?;
                (time.clone(), time.clone(), time)
            }
            LimitForm::Between(shortest, longest) => {
                let shortest = self.value(&lent(shortest, longest), duration, found)?.value;
                let (longest, _) = self.duration(longest, found)?;
                let likely = (&shortest + &longest) / Exact::from_integer(2.into());
                (shortest, likely, longest)
            }
            LimitForm::Triple(shortest, likely, longest) => {
                let shortest = self.value(&lent(shortest, longest), duration, found)?.value;
                let likely = self.value(&lent(likely, longest), duration, found)?.value;
                let (longest, _) = self.duration(longest, found)?;
                (shortest, likely, longest)
            }
            LimitForm::AtMost(_)
            | LimitForm::AtLeast(_)
            | LimitForm::Under(_)
            | LimitForm::Over(_)
            | LimitForm::OverTo(..)
            | LimitForm::PlusMinus(..)
            | LimitForm::Unequal(..) => {
                self.not_so_many(written, "a limit", "one time, or three", found);
                return None;
            }
        };
        let in_order = zero() <= times.0 && times.0 <= times.1 && times.1 <= times.2;
        if !in_order {
            let why = "the shortest time comes first, the longest last".to_owned();
            self.impossible(written.span, why, None, found);
            return None;
        }
        Some(times)
    }

    fn ends(
        &self,
        written: &tree::Limit,
        wanted: Option<KindId>,
        found: &mut Findings,
    ) -> Option<Ends> {
        let mut one = |end: &tree::Expression, closed: bool| {
            self.typed(end, wanted, found).map(|typed| (typed, closed))
        };
        Some(match &written.form {
            LimitForm::AtMost(end) => Ends { lower: None, upper: Some(one(end, true)?) },
            LimitForm::Under(end) => Ends { lower: None, upper: Some(one(end, false)?) },
            LimitForm::AtLeast(end) => Ends { lower: Some(one(end, true)?), upper: None },
            LimitForm::Over(end) => Ends { lower: Some(one(end, false)?), upper: None },
            LimitForm::Just(end) => {
                let end = one(end, true)?;
                Ends { lower: Some(end.clone()), upper: Some(end) }
            }
            LimitForm::Between(lower, upper) => {
                let (lower, upper) = self.pair(lower, upper, wanted, found)?;
                Ends { lower: Some((lower, true)), upper: Some((upper, true)) }
            }
            LimitForm::OverTo(lower, upper) => {
                let (lower, upper) = self.pair(lower, upper, wanted, found)?;
                Ends { lower: Some((lower, false)), upper: Some((upper, true)) }
            }
            LimitForm::PlusMinus(middle, by) => self.plus_minus(middle, by, wanted, found)?,
            LimitForm::Unequal(middle, upper, lower) => {
                self.unequal(middle, upper, lower, wanted, found)?
            }
            LimitForm::Triple(..) => {
                self.not_so_many(written, "three figures", "a limit", found);
                return None;
            }
        })
    }

    /// Both ends of a range; the unit stands once, at its end.
    fn pair(
        &self,
        lower: &tree::Expression,
        upper: &tree::Expression,
        wanted: Option<KindId>,
        found: &mut Findings,
    ) -> Option<(Typed, Typed)> {
        let upper_end = self.typed(upper, wanted, found);
        let kind = upper_end.as_ref().map(|end| end.kind);
        if kind.is_none() && needs_lent(lower) {
            return None;
        }
        let lower_end = self.typed(&lent(lower, upper), wanted.or(kind), found);
        Some((lower_end?, upper_end?))
    }

    /// Fixed where both ends are, computed else.
    fn settled(&self, ends: Ends, written: &tree::Limit, found: &mut Findings) -> Option<Bounds> {
        let of = ends.upper.as_ref().or(ends.lower.as_ref())?;
        let (kind, unit) = (of.0.kind, of.0.unit);
        let said = self.written_or(written.span, || "this limit".to_owned());
        let is_computed = |end: &Option<(Typed, bool)>| {
            end.as_ref().is_some_and(|(end, _)| matches!(constant(&end.value), Constant::Reading))
        };
        if is_computed(&ends.lower) || is_computed(&ends.upper) {
            let end = |(end, closed): (Typed, bool)| (end.value, closed);
            let limit = ComputedLimit { lower: ends.lower.map(end), upper: ends.upper.map(end) };
            return Some(Bounds::Computed { limit, kind, unit, written: said });
        }
        let mut decimals = 0;
        let mut end = |end: Option<(Typed, bool)>, found: &mut Findings| -> Option<Option<Bound>> {
            let Some((end, closed)) = end else { return Some(None) };
            let value = self.fixed(&end, found)?;
            decimals = decimals.max(self.quantity_of(&end, value.clone()).decimals);
            Some(Some(Bound { value, closed }))
        };
        let range = Range { lower: end(ends.lower, found)?, upper: end(ends.upper, found)? };
        if range.is_empty() {
            let (why, instead) = ("no value lies in it".to_owned(), self.swapped(written));
            self.impossible(written.span, why, instead, found);
            return None;
        }
        self.above_its_floor(&range, (kind, unit), written.span, found)?;
        Some(Bounds::Fixed(Limit { range, kind, unit, decimals, written: said }))
    }

    /// Says so where an end lies below all that there is: colder than absolute zero, less than a vacuum.
    fn above_its_floor(
        &self,
        range: &Range,
        (kind, unit): (KindId, UnitId),
        span: Span,
        found: &mut Findings,
    ) -> Option<()> {
        let units = self.units();
        let floor = units.kind(kind).floor.as_ref();
        let ends = || [&range.lower, &range.upper].into_iter().flatten();
        let Some(floor) = floor.filter(|floor| ends().any(|end| end.value < **floor)) else {
            return Some(());
        };
        let unit = units.unit(unit);
        let least = to_decimal(
            &Rounding::Up.to_step(&unit.number_of(floor), &Exact::new(1.into(), 100.into())),
            2,
        );
        let why = format!(
            "no {} is below {least} {}",
            units.kind(kind).name.replace('-', " "),
            unit.name
        );
        self.impossible(span, why, None, found);
        None
    }

    /// `5 .. 3 mm` was meant as `3 .. 5 mm`, `20 mm +0.1/+0.2 mm` as `20 mm +0.2/+0.1 mm`.
    fn swapped(&self, written: &tree::Limit) -> Option<String> {
        let unit =
            |of: &tree::Quantity| self.written(Span { start: of.number.span.end, ..of.span });
        let turned = match &written.form {
            LimitForm::Between(tree::Expression::Quantity(a), b) => {
                let tree::Expression::Quantity(b) = &**b else { return None };
                format!("{} .. {} {}", b.number.text, a.number.text, unit(b).trim())
            }
            LimitForm::Unequal(_, upper, lower) if upper.unit.is_none() => {
                let before = self.written(Span { end: upper.span.start, ..written.span });
                let middle = before.trim_end_matches('+').trim_end();
                let (upper_text, lower_text) = (signed(upper), signed(lower));
                format!("{middle} {lower_text}/{upper_text} {}", unit(lower).trim())
            }
            LimitForm::Between(..)
            | LimitForm::Unequal(..)
            | LimitForm::AtMost(_)
            | LimitForm::AtLeast(_)
            | LimitForm::Under(_)
            | LimitForm::Over(_)
            | LimitForm::OverTo(..)
            | LimitForm::Triple(..)
            | LimitForm::PlusMinus(..)
            | LimitForm::Just(_) => return None,
        };
        Some(turned.trim_end().to_owned())
    }

    fn same_kind(
        &self,
        limit: &Limit,
        name: &tree::Name,
        wanted: Option<KindId>,
        found: &mut Findings,
    ) -> Option<()> {
        if wanted.is_none_or(|wanted| self.is_kind(limit.kind, wanted)) {
            return Some(());
        }
        self.name_of_wrong_kind(name, limit, wanted, found);
        None
    }

    fn not_so_many(
        &self,
        written: &tree::Limit,
        is: &str,
        wanted: &'static str,
        found: &mut Findings,
    ) {
        found.add(&OneFigure {
            written: self.written_or(written.span, || "this".to_owned()),
            span: written.span,
            found: is.to_owned(),
            wanted,
            mend: format!("write {wanted}"),
        });
    }

    pub(crate) fn impossible(
        &self,
        span: Span,
        why: String,
        instead: Option<String>,
        found: &mut Findings,
    ) {
        let written = self.written_or(span, || "this".to_owned());
        found.add(&ImpossibleValue { written, span, why, instead, narrow: None });
    }
}

/// A deviation with its sign; nothing has none.
fn signed(deviation: &tree::Quantity) -> String {
    let text = &deviation.number.text;
    let has_sign = text.starts_with(['-', '\u{2212}']);
    if has_sign || text.chars().all(|sign| matches!(sign, '0' | '.')) {
        text.clone()
    } else {
        format!("+{text}")
    }
}

/// A figure to tighten to has both ends and is more than nothing; says where it is not so. False where nothing
/// can be held against it.
pub(crate) fn can_be_tightened_to(
    limit: &Limit,
    turned: bool,
    span: Span,
    found: &mut Findings,
) -> bool {
    let (Some(lower), Some(_)) = (&limit.range.lower, &limit.range.upper) else {
        found.add(&OneFigure::open_ended(&limit.written, span));
        return true;
    };
    let more_than_nothing = lower.value.is_positive();
    if !more_than_nothing {
        let why = "nothing is tightened by a torque or an angle that may be nothing or less";
        let (written, why) = (limit.written.clone(), why.to_owned());
        found.add(&ImpossibleValue { written, span, why, instead: None, narrow: None });
    }
    if turned {
        not_too_far(limit, span, found);
    }
    more_than_nothing
}

/// Says so where the last of several stages makes the angles more than a whole turn together: once, where it is passed.
pub(crate) fn not_too_far_together(stages: &[Stage], span: Span, found: &mut Findings) {
    let Some((_, before)) = stages.split_last() else { return };
    // A single one that is too much by itself is told of itself.
    let (Some(before), Some(all)) = (locknut_graph::angle(before), locknut_graph::angle(stages))
    else {
        return;
    };
    if !is_too_far(&before) {
        not_too_far(&all, span, found);
    }
}

/// Says so where all that is turned on is more than a whole turn.
fn not_too_far(angle: &Limit, span: Span, found: &mut Findings) {
    if is_too_far(angle) {
        found.add(&TurnedTooFar { angle: angle.written.clone(), span });
    }
}

/// Angles are reckoned in turns.
fn is_too_far(angle: &Limit) -> bool {
    angle.range.upper.as_ref().is_some_and(|upper| upper.value > Exact::one())
}
