//! `check NAME = EXPR { … }`: computes, reads nothing.

use super::super::coverage::{Possible, linear, other_side, uncertain};
use super::super::laying::Laying;
use super::super::said;
use super::draft::Draft;
use super::limits::{self, Subject};
use super::readings::{self, Number};
use super::shape::{Bodies, does_not_fit, limit_in, span_of};
use super::verdict::judged;
use super::{Lay, Verb};
use super::{bare_difference, capability};
use crate::findings::quantities::{ImpossibleValue, WrongKind, a_kind};
use crate::findings::readings::{Usual, UsuallyOutside};
use locknut_finding::{Finding, Span};
use locknut_graph::{ActKind, Between, Expression, Fold, LineValue, Operator};
use locknut_quantity::{Exact, KindId, Limit, Range, UnitId, Units};
use locknut_syntax::tree::{self, Act, Object};

const FORM: &str = "check NAME = what is worked out { accept … / otherwise … }";

/// A worked-out value is shown with at most so many digits after the point.
const MOST_DECIMALS: u32 = 6;

pub(super) const VERB: Verb = Verb {
    word: "check",
    form: FORM,
    clauses: &["proves", "usually"],
    bodies: Bodies::Verdicts,
    lay: Lay::Line(check),
};

fn check<'w>(laying: &mut Laying<'w>, act: &'w Act) -> Option<Draft<'w>> {
    let (name, written) = match act.objects.as_slice() {
        [Object::Definition { name, value }] => (name, value),
        objects => {
            let span = objects.first().map_or(act.verb.span, span_of);
            does_not_fit(laying, act, FORM, span);
            return None;
        }
    };
    let (value, kind, unit) = laying.expression(written, None)?;
    let so_far = laying.found.reports().len();
    let unit = laying.world.units.of_difference(unit);
    let mut judged = judged(laying, act, Some(kind));
    judged.of_difference(&laying.world.units);
    of_formula(laying, written, so_far);
    bare_difference::tell(laying, act, kind);
    let possible = laying.possible(&value);
    if let Some(divisor) = divided_by_nothing(laying, &value) {
        let (written, span) = (laying.written(written.span()), written.span());
        let why = "what it is divided by can come to 0 there, and nothing can be divided by 0";
        let (why, narrow) = (why.to_owned(), narrow_expect(laying, &divisor));
        laying.found.add(&ImpossibleValue { written, span, why, instead: None, narrow });
    }
    let (unit, decimals) = shown_in(laying, &value, unit, &judged.limits());
    let subject = Subject {
        name,
        value: Some(&value),
        instrument: None,
        possible: Some(&possible),
        bounded_by: "what it is worked out from comes to no more and no less".to_owned(),
        points: &[],
        unit,
    };
    limits::check(laying, &judged, &subject);
    let doubt = uncertain(&value, &laying.knowns);
    let held = capability::Value {
        name,
        instrument: None,
        worked_out: Some(&value),
        uncertain: doubt.clone(),
        other_side: other_side(&value, &laying.knowns),
        usually: usually(laying, act, kind, &possible, unit),
        possible: Some(&possible),
        unit,
        decimals,
    };
    let capability = capability::weigh(laying, &mut judged, &held);
    limits::decides(laying, &judged, &subject);
    let sum = linear(&value, &laying.knowns);
    let number = Number {
        kind,
        unit,
        decimals,
        points: Vec::new(),
        possible,
        usually: None,
        rough: false,
        sum,
        doubt,
        expected: false,
        named: true,
    };
    let reading = readings::number(laying, name, number);
    let kind = ActKind::Check { reading, value, verdict: judged.verdict };
    let mut draft = Draft::of(kind, "act-check", act.span);
    draft.say("reading", LineValue::Reading(reading));
    draft.capability = capability;
    draft.follows = judged.follows;
    Some(draft)
}

/// Where a limit is of another kind than its formula is declared to give, one of the two is wrong.
fn of_formula(laying: &mut Laying<'_>, written: &tree::Expression, from: usize) {
    let tree::Expression::Call { function, .. } = written else { return };
    let Some(formula) = laying.world.formulas.get(&function.text) else { return };
    let kind = a_kind(&laying.world.units, formula.kind);
    let text = format!("“{}” is declared to give {kind}", function.text);
    laying.found.point_out(from, WrongKind::PAGE.code(), formula.span, &text);
}

/// What it is on 95 of 100 machines.
fn usually(
    laying: &mut Laying<'_>,
    act: &Act,
    kind: KindId,
    possible: &Possible,
    unit: UnitId,
) -> Option<Range> {
    let written = limit_in(act, "usually")?;
    let usually = laying.limit(written, Some(kind))?;
    if !possible.range.covers(&usually.range) {
        laying.found.add(&UsuallyOutside {
            usually: usually.written.clone(),
            span: written.span,
            expect: said::range(
                &laying.world.units,
                &possible.range,
                said::In { unit, kind },
                usually.decimals,
            ),
            expect_span: span_of_value(act),
            of: Usual::WorkedOut,
        });
    }
    Some(usually.range)
}

fn span_of_value(act: &Act) -> Span {
    act.objects.first().map_or(act.span, span_of)
}

/// The value stands beside its limit, so it is told in the limit's unit.
fn shown_in(
    laying: &Laying<'_>,
    value: &Expression,
    unit: UnitId,
    limits: &[&Limit],
) -> (UnitId, u32) {
    let of_limit = limits.first().map_or(unit, |limit| limit.unit);
    let decimals = decimals(laying, value, unit, limits);
    let turned = locknut_quantity::decimals_in(&laying.world.units, unit, decimals, of_limit);
    let written = limits.iter().filter(|limit| limit.unit == of_limit).map(|limit| limit.decimals);
    (of_limit, turned.max(written.max().unwrap_or(0)).min(MOST_DECIMALS))
}

/// Enough digits for every reading and limit in it; a mean or what lies between two rows of a table gets one more.
fn decimals(laying: &Laying<'_>, value: &Expression, unit: UnitId, limits: &[&Limit]) -> u32 {
    let of_limits = limits.iter().filter(|limit| limit.unit == unit).map(|limit| limit.decimals);
    let of_parts =
        decimals_in(laying, value).max(if unit == Units::ONE { of_ratio(value) } else { 0 });
    of_limits.max().unwrap_or(0).max(of_parts).min(MOST_DECIMALS)
}

/// How many times one reading holds another is told to a thousandth.
fn of_ratio(value: &Expression) -> u32 {
    match value {
        Expression::Binary(Operator::Divide, _, by) if !by.readings().is_empty() => 3,
        Expression::Binary(_, left, right) => of_ratio(left).max(of_ratio(right)),
        Expression::Negative(inner) => of_ratio(inner),
        Expression::Fold(_, parts) => parts.iter().map(of_ratio).max().unwrap_or(0),
        Expression::Value(_)
        | Expression::Reading(_)
        | Expression::Point(..)
        | Expression::LookUp(..) => 0,
    }
}

fn decimals_in(laying: &Laying<'_>, value: &Expression) -> u32 {
    let of_reading = |reading: locknut_graph::ReadingId| {
        let reading = laying.build.readings.get(usize::from(reading.0));
        match reading.map(|reading| &reading.kind) {
            Some(locknut_graph::ReadingKind::Quantity { decimals, .. }) => *decimals,
            _ => 0,
        }
    };
    match value {
        Expression::Value(quantity) => quantity.decimals,
        Expression::Reading(reading) | Expression::Point(reading, _) => of_reading(*reading),
        Expression::Negative(inner) => decimals_in(laying, inner),
        Expression::LookUp(table, ..) => {
            let of_rows = table.rows.iter().map(|(_, value)| value.decimals).max().unwrap_or(0);
            of_rows + u32::from(table.between == Between::Proportion)
        }
        Expression::Binary(_, left, right) => {
            decimals_in(laying, left).max(decimals_in(laying, right))
        }
        Expression::Fold(fold, parts) => {
            let most = parts.iter().map(|part| decimals_in(laying, part)).max().unwrap_or(0);
            match fold {
                Fold::Mean => most + 1,
                Fold::Count => 0,
                Fold::Max | Fold::Min | Fold::Spread | Fold::Sum | Fold::Abs => most,
            }
        }
    }
}

/// Whether what a sum is divided by can come to 0.
/// Of a quotient whose divisor may come to nothing, the divisor.
fn divided_by_nothing(laying: &Laying<'_>, value: &Expression) -> Option<Expression> {
    let mut left = vec![value];
    while let Some(part) = left.pop() {
        match part {
            Expression::Value(_) | Expression::Reading(_) | Expression::Point(..) => {}
            Expression::Negative(inner) | Expression::LookUp(_, _, inner) => left.push(inner),
            Expression::Fold(_, parts) => left.extend(parts),
            Expression::Binary(operator, one, other) => {
                let nothing = Exact::from_integer(0.into());
                if *operator == Operator::Divide && laying.possible(other).range.contains(&nothing)
                {
                    return Some((**other).clone());
                }
                left.extend([&**one, &**other]);
            }
        }
    }
    None
}

/// The readings that make it so, as long as they may be read as they are expected now.
fn narrow_expect(laying: &Laying<'_>, divisor: &Expression) -> Option<(String, Vec<Span>)> {
    let ids: std::collections::BTreeSet<_> = divisor.readings().into_iter().collect();
    let readings = ids.iter().filter_map(|id| laying.build.readings.get(usize::from(id.0)));
    let (names, spans): (Vec<String>, Vec<Span>) =
        readings.map(|reading| (reading.words.said.clone(), reading.span)).unzip();
    (!names.is_empty()).then(|| (crate::findings::names::listed(&names, "and"), spans))
}
