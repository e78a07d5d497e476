//! Limits and ranges in every form of the language.

use super::Reader;
use super::expression::Typed;
use super::value::{Constant, constant, zero};
use crate::findings::names::CannotBeKnown;
use crate::findings::quantities::{ImpossibleValue, OneFigure, a_kind};
use locknut_finding::{Findings, Span};
use locknut_graph::{ComputedLimit, Expression, Operator};
use locknut_quantity::{Bound, Exact, KindId, Limit, Quantity, Range, UnitId, Units, parse_exact};
use locknut_syntax::tree::{self, LimitForm};
use std::borrow::Cow;

/// A limit whose ends are fixed, or computed from earlier readings.
#[derive(Clone, Debug)]
pub(crate) enum Bounds {
    Fixed(Limit),
    Computed { limit: ComputedLimit, kind: KindId, unit: UnitId, written: String },
}

/// The two ends as expressions, and whether each belongs.
struct Ends {
    lower: Option<(Typed, bool)>,
    upper: Option<(Typed, bool)>,
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
        let ends = self.ends(written, wanted, found)?;
        self.settled(ends, written, found)
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

    fn plus_minus(
        &self,
        middle: &tree::Expression,
        by: &tree::Expression,
        wanted: Option<KindId>,
        found: &mut Findings,
    ) -> Option<Ends> {
        let by = match by {
            tree::Expression::Quantity(by) if is_percent(by) && !self.lends_percent(middle, wanted) => {
                let middle = self.typed(middle, wanted, found)?;
                return self.plus_minus_percent(middle, by, found);
            }
            other => other,
        };
        let middle = self.typed(&lent(middle, by), wanted, found)?;
        let step = self.units().difference_of(middle.kind);
        let by = self.typed(&without_qualifier(by), Some(step), found)?;
        if let Constant::Value(value) = constant(&by.value)
            && value < zero()
        {
            let why = "a tolerance is written without a sign".to_owned();
            self.impossible(by.span, why, None, found);
            return None;
        }
        Some(around(&middle, &by, &by))
    }

    /// `50 ± 2 %` has its middle in percent, where percent is the unit wanted.
    fn lends_percent(&self, middle: &tree::Expression, wanted: Option<KindId>) -> bool {
        let spelled = self.units().spelled("%");
        let is_unit = |kind: KindId| spelled.iter().any(|unit| self.units().unit(*unit).kind == kind);
        needs_lent(middle) && wanted.is_some_and(|kind| kind != Units::NUMBER && is_unit(kind))
    }

    fn plus_minus_percent(
        &self,
        middle: Typed,
        by: &tree::Quantity,
        found: &mut Findings,
    ) -> Option<Ends> {
        if self.is_point(middle.kind) {
            let kind = a_kind(self.units(), middle.kind);
            let why = format!("a percentage of {kind} means nothing");
            self.impossible(by.span, why, None, found);
            return None;
        }
        let fraction = self.number(&by.number, found)? / parse_exact("100")?;
        if fraction < zero() {
            self.impossible(by.span, "a tolerance is written without a sign".to_owned(), None, found);
            return None;
        }
        let fraction = Quantity {
            value: fraction,
            kind: Units::NUMBER,
            unit: Units::ONE,
            decimals: 0,
            written: self.written(by.span),
        };
        let (fraction, whole) = (Box::new(Expression::Value(fraction)), Box::new(middle.value.clone()));
        let value = Expression::Binary(Operator::Multiply, fraction, whole);
        let by = Typed { value, span: by.span, ..middle.clone() };
        Some(around(&middle, &by, &by))
    }

    /// `20 mm +0.1/-0.2 mm`: the deviations carry their signs.
    fn unequal(
        &self,
        middle: &tree::Expression,
        upper: &tree::Quantity,
        lower: &tree::Quantity,
        wanted: Option<KindId>,
        found: &mut Findings,
    ) -> Option<Ends> {
        let lower_end = tree::Expression::Quantity(lower.clone());
        let upper_end = tree::Expression::Quantity(upper.clone());
        let middle = self.typed(&lent(middle, &lower_end), wanted, found)?;
        let step = Some(self.units().difference_of(middle.kind));
        let upper = self.typed(&without_qualifier(&lent(&upper_end, &lower_end)), step, found)?;
        let lower = self.typed(&without_qualifier(&lower_end), step, found)?;
        let from = |by: Typed| sum(&middle, &by);
        Some(Ends { lower: Some((from(lower), true)), upper: Some((from(upper), true)) })
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
            let limit =
                ComputedLimit { lower: ends.lower.map(end), upper: ends.upper.map(end) };
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
            let (why, instead) = (format!("no value lies in {said}"), self.swapped(written));
            self.impossible(written.span, why, instead, found);
            return None;
        }
        Some(Bounds::Fixed(Limit { range, kind, unit, decimals, written: said }))
    }

    /// `5 .. 3 mm` was meant as `3 .. 5 mm`.
    fn swapped(&self, written: &tree::Limit) -> Option<String> {
        let LimitForm::Between(tree::Expression::Quantity(a), tree::Expression::Quantity(b)) =
            &written.form
        else {
            return None;
        };
        let unit = self.written(Span { start: b.number.span.end, ..b.span });
        let (a, b) = (&a.number.text, &b.number.text);
        Some(format!("{b} .. {a} {unit}").trim_end().to_owned())
    }

    fn same_kind(
        &self,
        limit: &Limit,
        name: &tree::Name,
        wanted: Option<KindId>,
        found: &mut Findings,
    ) -> Option<()> {
        if wanted.is_none_or(|wanted| wanted == limit.kind) {
            return Some(());
        }
        let kind = a_kind(self.units(), limit.kind);
        let said = format!("{} ({})", name.text, limit.written);
        self.wrong_kind(said, name.span, &[kind], wanted, found);
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
        found.add(&ImpossibleValue { written, span, why, instead });
    }
}

/// `middle - below .. middle + above`
fn around(middle: &Typed, below: &Typed, above: &Typed) -> Ends {
    let difference = |operator, by: &Typed| {
        let (left, right) = (Box::new(middle.value.clone()), Box::new(by.value.clone()));
        let decimals = middle.decimals.max(by.decimals);
        Typed { value: Expression::Binary(operator, left, right), decimals, ..middle.clone() }
    };
    let lower = difference(Operator::Subtract, below);
    let upper = difference(Operator::Add, above);
    Ends { lower: Some((lower, true)), upper: Some((upper, true)) }
}

fn sum(middle: &Typed, by: &Typed) -> Typed {
    let (left, right) = (Box::new(middle.value.clone()), Box::new(by.value.clone()));
    let decimals = middle.decimals.max(by.decimals);
    Typed { value: Expression::Binary(Operator::Add, left, right), decimals, ..middle.clone() }
}

/// A bare number that takes its unit from the figure after it.
fn needs_lent(expression: &tree::Expression) -> bool {
    matches!(expression, tree::Expression::Quantity(quantity) if quantity.unit.is_none())
}

/// The unit is written once, at the end of a range, tolerance or list: `0.2 .. 1.6 mm`.
pub(crate) fn lent<'a>(
    to: &'a tree::Expression,
    from: &tree::Expression,
) -> Cow<'a, tree::Expression> {
    match (to, from) {
        (tree::Expression::Quantity(to), tree::Expression::Quantity(from))
            if to.unit.is_none() && from.unit.is_some() =>
        {
            let lent = tree::Quantity {
                unit: from.unit.clone(),
                qualifier: from.qualifier.clone(),
                ..to.clone()
            };
            Cow::Owned(tree::Expression::Quantity(lent))
        }
        _ => Cow::Borrowed(to),
    }
}

/// After `±` a pressure needs no word; where it stands it was meant for the middle.
fn without_qualifier(expression: &tree::Expression) -> Cow<'_, tree::Expression> {
    match expression {
        tree::Expression::Quantity(quantity) if quantity.qualifier.is_some() => {
            let bare = tree::Quantity { qualifier: None, ..quantity.clone() };
            Cow::Owned(tree::Expression::Quantity(bare))
        }
        other => Cow::Borrowed(other),
    }
}

pub(super) fn is_percent(quantity: &tree::Quantity) -> bool {
    quantity.unit.as_ref().is_some_and(|unit| unit.text == "%")
}

/// The figures of a plain value, a range or a tolerance, in written order.
pub(crate) fn figures<'t>(limit: &'t tree::Limit) -> Vec<&'t tree::Quantity> {
    let parts = match &limit.form {
        LimitForm::Just(one) => vec![one],
        LimitForm::Between(one, other) | LimitForm::PlusMinus(one, other) => vec![one, other],
        _ => Vec::new(),
    };
    let figure = |part: &'t tree::Expression| match part {
        tree::Expression::Quantity(figure) => Some(figure),
        _ => None,
    };
    parts.into_iter().filter_map(figure).collect()
}

/// The same, to be changed.
pub(crate) fn figures_mut<'t>(limit: &'t mut tree::Limit) -> Vec<&'t mut tree::Quantity> {
    let parts = match &mut limit.form {
        LimitForm::Just(one) => vec![one],
        LimitForm::Between(one, other) | LimitForm::PlusMinus(one, other) => vec![one, other],
        _ => Vec::new(),
    };
    let figure = |part: &'t mut tree::Expression| match part {
        tree::Expression::Quantity(figure) => Some(figure),
        _ => None,
    };
    parts.into_iter().filter_map(figure).collect()
}

