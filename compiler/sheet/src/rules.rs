//! Expressions as a line that a fitter can work: "greatest gap less smallest gap".
//!
//! A line in which units do not fit one another as they are read (grams, millimetres and newtons)
//! carries the factors: whoever works it types the figures that stand in the boxes.

use crate::words::Speaker;
use locknut_graph::{Expression, Fold, Operator, Reading, ReadingId, ReadingKind, Table};
use locknut_quantity::{Exact, Unit, Units, to_digits};
use num_traits::{One, Zero};

/// Digits of a factor: as many as a workshop's reckoner takes.
const MOST_DIGITS: u32 = 9;

/// `spread = greatest of gap − smallest of gap`; with `result` the reading that takes it.
pub(crate) fn rule(
    speak: Speaker<'_>,
    name: &str,
    result: Option<&Unit>,
    value: &Expression,
) -> String {
    let Some(result) = result.filter(|unit| !fits(speak, value, unit)) else {
        return format!("{name} = {}", worded(speak, value, Figures::AsRead, false));
    };
    // How many times one holds the other is the same in every unit that both are read in.
    let figures = if is_share(speak, value) { Figures::AsRead } else { Figures::InBase };
    let base = worded(speak, value, figures, false);
    format!("{name} = {}", out_of_base(speak, base, result))
}

/// An expression in words: `greatest gap`.
pub(crate) fn said(speak: Speaker<'_>, value: &Expression) -> String {
    worded(speak, value, Figures::AsRead, false)
}

/// The unit in which a reading is read.
pub(crate) fn unit_of(speak: Speaker<'_>, reading: ReadingId) -> Option<&Unit> {
    read_in(speak, speak.graph.reading(reading))
}

fn read_in<'a>(speak: Speaker<'a>, reading: &Reading) -> Option<&'a Unit> {
    let ReadingKind::Quantity { unit, .. } = &reading.kind else { return None };
    Some(speak.units.unit(speak.reader_unit(*unit)))
}

/// The unit in which a table gives its figures.
fn table_unit<'a>(speak: Speaker<'a>, table: &Table) -> Option<&'a Unit> {
    table.rows.first().map(|(_, value)| speak.units.unit(speak.reader_unit(value.unit)))
}

/// Whether every figure is in the unit of the result, and none is multiplied with another.
fn fits(speak: Speaker<'_>, value: &Expression, result: &Unit) -> bool {
    let all = |parts: &[&Expression]| parts.iter().all(|part| fits(speak, part, result));
    match value {
        Expression::Value(quantity) => {
            speak.units.unit(speak.reader_unit(quantity.unit)).factor == result.factor
        }
        Expression::Reading(reading) | Expression::Point(reading, _) => {
            unit_of(speak, *reading).is_none_or(|unit| unit.factor == result.factor)
        }
        Expression::LookUp(table, ..) => {
            table_unit(speak, table).is_none_or(|unit| unit.factor == result.factor)
        }
        Expression::Negative(of) => fits(speak, of, result),
        Expression::Fold(Fold::Count, _) => result.factor.is_one(),
        Expression::Fold(_, parts) => parts.iter().all(|part| fits(speak, part, result)),
        Expression::Binary(Operator::Add | Operator::Subtract, left, right) => all(&[left, right]),
        Expression::Binary(Operator::Multiply, left, right) => {
            (is_number(speak, left) && all(&[right])) || (is_number(speak, right) && all(&[left]))
        }
        Expression::Binary(Operator::Divide, left, _) if is_share(speak, value) => {
            result.factor.is_one() || (is_number(speak, left) && all(&[left]))
        }
        Expression::Binary(Operator::Divide, left, right) => {
            is_number(speak, right) && all(&[left])
        }
    }
}

/// Whether it is a quotient of two that are read in one unit.
fn is_share(speak: Speaker<'_>, value: &Expression) -> bool {
    let Expression::Binary(Operator::Divide, left, right) = value else { return false };
    let unit = left.readings().first().and_then(|reading| unit_of(speak, *reading));
    unit.is_some_and(|unit| fits(speak, left, unit) && fits(speak, right, unit))
}

/// Whether a value is a bare number, or worked out of bare numbers.
fn is_number(speak: Speaker<'_>, value: &Expression) -> bool {
    let number = |reading: &ReadingId| match &speak.graph.reading(*reading).kind {
        ReadingKind::Quantity { kind, .. } => *kind == Units::NUMBER,
        ReadingKind::Answer { .. }
        | ReadingKind::Serial
        | ReadingKind::Date
        | ReadingKind::Text => false,
    };
    match value {
        Expression::Value(quantity) => quantity.kind == Units::NUMBER,
        Expression::Reading(reading) | Expression::Point(reading, _) => number(reading),
        Expression::Fold(Fold::Count, _) => true,
        Expression::Fold(_, parts) => parts.iter().all(|part| is_number(speak, part)),
        Expression::Binary(_, left, right) => is_number(speak, left) && is_number(speak, right),
        Expression::LookUp(table, ..) => {
            table.rows.iter().all(|(_, value)| value.kind == Units::NUMBER)
        }
        Expression::Negative(of) => is_number(speak, of),
    }
}

/// The unit of what is read on a scale: of a reading, and of one that is picked or meant from several points.
fn scale_of<'a>(speak: Speaker<'a>, value: &Expression) -> Option<&'a Unit> {
    match value {
        Expression::Reading(reading) | Expression::Point(reading, _) => unit_of(speak, *reading),
        Expression::Fold(Fold::Max | Fold::Min | Fold::Mean, parts) => match parts.as_slice() {
            [only] => scale_of(speak, only),
            _ => None,
        },
        Expression::Fold(..)
        | Expression::Value(_)
        | Expression::LookUp(..)
        | Expression::Negative(_)
        | Expression::Binary(..) => None,
    }
}

/// Whether two are read on one scale whose zero is no nought, as 0 °C is none: it drops out of their difference.
fn from_one_zero(speak: Speaker<'_>, one: &Expression, other: &Expression) -> bool {
    let both = scale_of(speak, one).zip(scale_of(speak, other));
    both.is_some_and(|(one, other)| {
        !one.zero.is_zero() && one.zero == other.zero && one.factor == other.factor
    })
}

/// How the figures of a line are told.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Figures {
    /// As they stand in the boxes.
    AsRead,
    /// Each turned into the coherent unit of its kind.
    InBase,
}

/// A figure as read, turned into base units: `(span ÷ 1000)`.
fn in_base(speak: Speaker<'_>, figure: String, unit: Option<&Unit>) -> String {
    let Some(unit) = unit else { return figure };
    let scaled = scaled(speak, &figure, &unit.factor);
    match (scaled == figure, unit.zero.is_zero()) {
        (true, true) => figure,
        (_, true) => format!("({scaled})"),
        (_, false) => format!("({scaled} + {})", number(speak, &unit.zero)),
    }
}

/// A value in base units as a figure of the unit in which it is asked for.
fn out_of_base(speak: Speaker<'_>, value: String, unit: &Unit) -> String {
    let from_zero = if unit.zero.is_zero() {
        value
    } else {
        format!("({value} \u{2212} {})", number(speak, &unit.zero))
    };
    if unit.factor.is_one() {
        return from_zero;
    }
    scaled(speak, &format!("({from_zero})"), &unit.factor.recip())
}

/// `figure × 0.3048`, `figure ÷ 1000`.
fn scaled(speak: Speaker<'_>, figure: &str, factor: &Exact) -> String {
    if factor.is_one() {
        return figure.to_owned();
    }
    let below = factor.recip();
    if below.is_integer() {
        return format!("{figure} ÷ {}", number(speak, &below));
    }
    format!("{figure} × {}", number(speak, factor))
}

fn number(speak: Speaker<'_>, value: &Exact) -> String {
    speak.digits(&to_digits(value, MOST_DIGITS))
}

/// Whether a value has several parts, which would run into what stands around them.
fn runs_on(value: &Expression) -> bool {
    match value {
        Expression::Binary(..) | Expression::Fold(Fold::Spread, _) => true,
        Expression::Fold(fold, parts) => {
            *fold != Fold::Abs && (parts.len() > 1 || parts.iter().any(runs_on))
        }
        Expression::Value(_)
        | Expression::Reading(_)
        | Expression::Point(..)
        | Expression::LookUp(..)
        | Expression::Negative(_) => false,
    }
}

/// Whether a side of an operator needs brackets.
fn binds_looser(side: &Expression, beside: Operator, left: bool) -> bool {
    let Expression::Binary(own, ..) = side else { return runs_on(side) };
    let sum = |operator: Operator| matches!(operator, Operator::Add | Operator::Subtract);
    match beside {
        Operator::Add => false,
        Operator::Subtract => !left && sum(*own),
        Operator::Multiply => sum(*own) || (!left && *own == Operator::Divide),
        Operator::Divide => sum(*own) || !left,
    }
}

fn worded(speak: Speaker<'_>, value: &Expression, figures: Figures, inner: bool) -> String {
    let read = |text: String, unit: Option<&Unit>| match figures {
        Figures::AsRead => text,
        Figures::InBase => in_base(speak, text, unit),
    };
    match value {
        Expression::Value(quantity) if figures == Figures::InBase => number(speak, &quantity.value),
        Expression::Value(quantity) => speak.quantity(quantity),
        Expression::Reading(id) => read(speak.reading(*id), unit_of(speak, *id)),
        Expression::Point(id, point) => read(speak.reading_at(*id, *point), unit_of(speak, *id)),
        Expression::LookUp(table, _, of) => {
            let unit = table_unit(speak, table);
            let key = worded(speak, of, Figures::AsRead, false);
            read(format!("{} ({key})", speak.phrases.name(&table.words)), unit)
        }
        Expression::Binary(Operator::Subtract, left, right)
            if figures == Figures::InBase && from_one_zero(speak, left, right) =>
        {
            let side = |side| worded(speak, side, Figures::AsRead, false);
            let text = format!("{} \u{2212} {}", side(left), side(right));
            let factor = scale_of(speak, left).map_or_else(Exact::one, |unit| unit.factor.clone());
            match (factor.is_one(), inner) {
                (true, false) => text,
                (true, true) => format!("({text})"),
                (false, _) => scaled(speak, &format!("({text})"), &factor),
            }
        }
        Expression::Negative(of) => format!("\u{2212}{}", worded(speak, of, figures, runs_on(of))),
        Expression::Binary(operator, left, right) => {
            let sign = match operator {
                Operator::Add => "+",
                Operator::Subtract => "\u{2212}",
                Operator::Multiply => "×",
                Operator::Divide => "÷",
            };
            let side = |side: &Expression, left: bool| {
                worded(speak, side, figures, binds_looser(side, *operator, left))
            };
            let text = format!("{} {sign} {}", side(left, true), side(right, false));
            if inner { format!("({text})") } else { text }
        }
        Expression::Fold(Fold::Abs, parts) => {
            let said = parts.iter().map(|part| worded(speak, part, figures, false));
            format!("|{}|", said.collect::<Vec<_>>().join(", "))
        }
        Expression::Fold(fold, parts) => {
            let said = parts.iter().map(|part| worded(speak, part, figures, runs_on(part)));
            let of = speak.all_of(&said.collect::<Vec<_>>());
            let key = match fold {
                Fold::Max => "fold-max",
                Fold::Min => "fold-min",
                Fold::Mean => "fold-mean",
                Fold::Spread => "fold-spread",
                Fold::Sum => "fold-sum",
                Fold::Count => "fold-count",
                Fold::Abs => "fold-abs",
            };
            let text = speak.say(key, &[("of", of)]);
            if inner { format!("({text})") } else { text }
        }
    }
}
