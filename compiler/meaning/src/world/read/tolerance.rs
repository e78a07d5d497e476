//! `22 ± 2 N·m`, `60 N·m ± 10 %`, `20 mm +0.1/-0.2 mm`: a middle with what it may differ by.

use super::Reader;
use super::expression::Typed;
use super::figures::{is_percent, lent, needs_lent, without_qualifier};
use super::limit::Ends;
use super::value::{Constant, constant, zero};
use crate::findings::quantities::{OneFigure, a_kind};
use locknut_finding::Findings;
use locknut_graph::{Expression, Operator};
use locknut_quantity::{Exact, KindId, Quantity, Units, parse_exact, to_digits};
use locknut_syntax::tree;

/// Digits of a figure that a mend says.
const MOST_DIGITS: u32 = 6;

impl Reader<'_> {
    pub(super) fn plus_minus(
        &self,
        middle: &tree::Expression,
        by: &tree::Expression,
        wanted: Option<KindId>,
        found: &mut Findings,
    ) -> Option<Ends> {
        if let tree::Expression::Quantity(by) = by
            && is_percent(by)
            && !self.lends_percent(middle, wanted)
        {
            if let Some((points, share)) = two_meanings(middle, by) {
                found.add(&OneFigure::percent_of_percent(
                    &self.written(by.span),
                    by.span,
                    &points,
                    &share,
                ));
                return None;
            }
            let middle = self.typed(middle, wanted, found)?;
            return self.plus_minus_percent(&middle, by, found);
        }
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
        let is_unit =
            |kind: KindId| spelled.iter().any(|unit| self.units().unit(*unit).kind == kind);
        needs_lent(middle) && wanted.is_some_and(|kind| kind != Units::NUMBER && is_unit(kind))
    }

    fn plus_minus_percent(
        &self,
        middle: &Typed,
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
            self.impossible(
                by.span,
                "a tolerance is written without a sign".to_owned(),
                None,
                found,
            );
            return None;
        }
        let fraction = Quantity {
            value: fraction,
            kind: Units::NUMBER,
            unit: Units::ONE,
            decimals: 0,
            written: self.written(by.span),
        };
        let (fraction, whole) =
            (Box::new(Expression::Value(fraction)), Box::new(middle.value.clone()));
        let value = Expression::Binary(Operator::Multiply, fraction, whole);
        let by = Typed { value, span: by.span, ..middle.clone() };
        Some(around(middle, &by, &by))
    }

    /// `20 mm +0.1/-0.2 mm`: the deviations carry their signs.
    pub(super) fn unequal(
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

/// Where 3 % beside a figure that is in percent itself may be three points of the scale, or three hundredths of the figure: how
/// each of them is written.
fn two_meanings(middle: &tree::Expression, by: &tree::Quantity) -> Option<(String, String)> {
    let tree::Expression::Quantity(of) = middle else { return None };
    if !is_percent(of) {
        return None;
    }
    let number = |of: &tree::Quantity| parse_exact(&of.number.text);
    let (of, by) = (number(of)?, number(by)?);
    let ends = |by: Exact| {
        let said = |end: Exact| to_digits(&end, MOST_DIGITS);
        format!("{} .. {} %", said(&of - &by), said(&of + &by))
    };
    let share = &of * &by / parse_exact("100")?;
    Some((ends(by), ends(share)))
}
