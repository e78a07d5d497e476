//! The figures in a limit as written, and the units that they lend each other.

use locknut_syntax::tree::{Expression, Limit, LimitForm, Quantity};
use std::borrow::Cow;

/// The expressions that a limit is made of, in written order.
pub(crate) fn sides(limit: &Limit) -> Vec<&Expression> {
    match &limit.form {
        LimitForm::AtMost(one)
        | LimitForm::AtLeast(one)
        | LimitForm::Under(one)
        | LimitForm::Over(one)
        | LimitForm::Just(one)
        | LimitForm::Unequal(one, ..) => vec![one],
        LimitForm::Between(one, other)
        | LimitForm::OverTo(one, other)
        | LimitForm::PlusMinus(one, other) => vec![one, other],
        LimitForm::Triple(one, other, last) => vec![one, other, last],
    }
}

/// The plain figures among them.
pub(crate) fn figures(limit: &Limit) -> Vec<&Quantity> {
    let mut figures = Vec::new();
    for side in sides(limit) {
        if let Expression::Quantity(figure) = side {
            figures.push(figure);
        }
    }
    figures
}

/// The same, to be changed.
pub(crate) fn figures_mut(limit: &mut Limit) -> Vec<&mut Quantity> {
    let sides = match &mut limit.form {
        LimitForm::AtMost(one)
        | LimitForm::AtLeast(one)
        | LimitForm::Under(one)
        | LimitForm::Over(one)
        | LimitForm::Just(one)
        | LimitForm::Unequal(one, ..) => vec![one],
        LimitForm::Between(one, other)
        | LimitForm::OverTo(one, other)
        | LimitForm::PlusMinus(one, other) => vec![one, other],
        LimitForm::Triple(one, other, last) => vec![one, other, last],
    };
    let mut figures = Vec::new();
    for side in sides {
        if let Expression::Quantity(figure) = side {
            figures.push(figure);
        }
    }
    figures
}

/// A bare number that takes its unit from the figure after it.
pub(super) fn needs_lent(expression: &Expression) -> bool {
    matches!(expression, Expression::Quantity(quantity) if quantity.unit.is_none())
}

/// The unit is written once, at the end of a range, tolerance or list: `0.2 .. 1.6 mm`.
pub(crate) fn lent<'a>(to: &'a Expression, from: &Expression) -> Cow<'a, Expression> {
    if let (Expression::Quantity(to), Expression::Quantity(from)) = (to, from)
        && to.unit.is_none()
        && from.unit.is_some()
    {
        let (unit, qualifier) = (from.unit.clone(), from.qualifier.clone());
        return Cow::Owned(Expression::Quantity(Quantity { unit, qualifier, ..to.clone() }));
    }
    Cow::Borrowed(to)
}

/// After `±` a pressure needs no word; where it stands it was meant for the middle.
pub(super) fn without_qualifier(expression: &Expression) -> Cow<'_, Expression> {
    if let Expression::Quantity(quantity) = expression
        && quantity.qualifier.is_some()
    {
        let bare = Quantity { qualifier: None, ..quantity.clone() };
        return Cow::Owned(Expression::Quantity(bare));
    }
    Cow::Borrowed(expression)
}

pub(super) fn is_percent(quantity: &Quantity) -> bool {
    quantity.unit.as_ref().is_some_and(|unit| unit.text == "%")
}
