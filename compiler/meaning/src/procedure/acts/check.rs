//! `check NAME = EXPR { … }`: computes, reads nothing.

use super::super::coverage::{Possible, linear, other_side, uncertain};
use super::super::laying::Laying;
use super::super::said;
use super::digits::{self, Digits};
use super::draft::Draft;
use super::expected::has_both_ends;
use super::limits::{self, Subject};
use super::readings::{self, Number};
use super::shape::{Bodies, does_not_fit, limit_in, span_of};
use super::verdict::judged;
use super::{Lay, Verb};
use super::{bare_difference, cancels, capability, one_side};
use crate::findings::quantities::{ImpossibleValue, WrongKind, a_kind};
use crate::findings::readings::{CannotFail, CannotPass, Usual, UsuallyOutside};
use locknut_finding::{Finding, Span};
use locknut_graph::{ActKind, Expression, LineValue, Operator, Verdict};
use locknut_quantity::{Exact, KindId, Range, UnitId};
use locknut_syntax::tree::{self, Act, Object};

const FORM: &str = "check NAME = what is worked out { accept … / otherwise … }";

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
    let Digits { unit, decimals, rounded } =
        digits::of(laying, &value, unit, &judged.limits(), &possible);
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
    one_side::tell(laying, &name.text, (&value, written.span()), &judged, (&possible, unit));
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
    // What comes out always, or never, is told of its limit.
    let codes = [CannotFail::PAGE.code(), CannotPass::PAGE.code()];
    if !codes.iter().any(|code| laying.found.has(so_far, code)) {
        cancels::tell(laying, &name.text, written.span(), &value);
        if let Verdict::Accept { limit, computed: Some(ends) } = &judged.verdict {
            cancels::tell_against(laying, &name.text, limit.span, &value, ends);
        }
    }
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
    if rounded {
        laying.rounded.insert(reading);
    }
    let kind = ActKind::Check { reading, value, verdict: judged.verdict, rounded };
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
    if !has_both_ends(&usually) {
        laying.found.add(&UsuallyOutside::one_end(&usually.written, written.span));
        return None;
    }
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
