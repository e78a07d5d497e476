//! `measure NAME at POINT, … using INSTRUMENT, expect … { … }`

use super::super::coverage::{Possible, Uncertain};
use super::super::laying::Laying;
use super::capability;
use super::draft::Draft;
use super::instruments::{cautions, kind_said, listed, read_with, using};
use super::limits::{self, Subject, within_reach};
use super::readings::{self, Number, digits_of, shown_by};
use super::shape::{Bodies, limit_in, names, one_name};
use super::verdict::judged;
use super::{Lay, Verb};
use crate::findings::names::{DoubledName, TooMany, UnknownName};
use crate::findings::readings::{RestsOnRough, UsuallyOutside, WrongInstrument};
use crate::world::near::nearest;
use crate::world::{Instrument, Model, ModelReading, at_point};
use locknut_graph::{ActKind, Effect, LineValue, Words};
use locknut_quantity::{Bound, Exact, KindId, Limit, Range, UnitId, Units};
use locknut_syntax::tree::{Act, Body, Name, Object};

const FORM: &str =
    "measure NAME roughly at POINT, … using INSTRUMENT, expect … { accept … / otherwise … }";

/// A reading has at most so many points.
const MOST_POINTS: usize = 60;

pub(super) const VERB: Verb = Verb {
    word: "measure",
    form: FORM,
    clauses: &["at", "using", "expect", "usually", "proves"],
    bodies: Bodies::Verdicts,
    lay: Lay::Line(measure),
};

fn measure<'w>(laying: &mut Laying<'w>, act: &'w Act) -> Option<Draft<'w>> {
    let (name, rough) = match act.objects.as_slice() {
        [Object::Name(name), Object::Name(how)] if how.text == "roughly" => (name, true),
        _ => (one_name(laying, act, FORM)?, false),
    };
    if let (true, Body::Verdict { span, .. } | Body::Arms { span, .. }) = (rough, &act.body) {
        laying.found.add(&RestsOnRough { used: *span, read: name.span, name: name.text.clone() });
    }
    let points = points(laying, act);
    let using = using(laying, act);
    let instrument = read_with(laying, act, name, &using);
    let of_model = laying.model.readings.get(&name.text);
    if let (None, Some(near)) =
        (of_model, nearest(&name.text, laying.model.readings.keys().map(String::as_str)))
    {
        laying.found.add(&UnknownName {
            wanted: "reading of this model",
            name: name.text.clone(),
            span: name.span,
            near: Some(near),
            else_is: None,
        });
    }
    if let (Some(of_model), Some(instrument)) = (of_model, instrument) {
        right_kind(laying, act, of_model, instrument);
    }
    let kind = instrument.map(|instrument| instrument.kind);
    let mut expected = expected(laying, act, kind, instrument);
    if expected.expect.is_none() {
        expected.expect = of_model.and_then(|of_model| of_model.expect.clone());
    }
    let mut judged = judged(laying, act, kind);
    let limits: Vec<&Limit> = expected.expect.iter().chain(judged.limits()).collect();
    let shown = shown(&laying.world.units, instrument, &limits);
    let possible = instrument.map(|instrument| shown_by(instrument, expected.expect.as_ref()));
    let subject = Subject {
        name,
        instrument,
        possible: possible.as_ref(),
        bounded_by: bounded_by(instrument, expected.expect.as_ref()),
        points: &points,
        unit: shown.unit,
    };
    limits::check(laying, &judged, &subject);
    let capability = match instrument {
        Some(instrument) => {
            let value = capability::Value {
                name,
                instrument: Some(instrument),
                uncertain: None,
                other_side: other_side(instrument, expected.expect.as_ref()),
                usually: expected.usually.as_ref().map(|usually| usually.range.clone()),
                possible: possible.as_ref(),
                unit: shown.unit,
            };
            capability::weigh(laying, &mut judged, &value)
        }
        None => Vec::new(),
    };
    let doubt = possible.as_ref().zip(instrument).map(|(possible, instrument)| Uncertain {
        error: instrument.error.as_ref().and_then(|error| error.over(&possible.range)),
        uncertainty: instrument
            .standard_uncertainty
            .as_ref()
            .and_then(|uncertainty| uncertainty.over(&possible.range)),
    });
    let number = Number {
        kind: shown.kind,
        unit: shown.unit,
        decimals: shown.decimals,
        points: points.clone(),
        possible: possible.unwrap_or_else(|| fallback(expected.expect.as_ref())),
        usually: expected.usually,
        rough,
        sum: None,
        doubt,
        expected: expected.expect.is_some(),
    };
    let reading = readings::number(laying, name, number);
    let kind = ActKind::Measure { reading, expect: expected.expect, verdict: judged.verdict };
    let mut draft =
        Draft::of(kind, if rough { "act-measure-roughly" } else { "act-measure" }, act.span);
    draft.say("reading", LineValue::Reading(reading));
    if !points.is_empty() {
        let words = points.iter().map(|point| Words::of(point)).collect();
        draft.say("points", LineValue::List(words));
    }
    if let Some(instrument) = instrument {
        draft.say("instrument", LineValue::Words(instrument.words.clone()));
        draft.instrument = Some(listed(laying, instrument));
        draft.cautions = cautions(instrument, act.span);
    }
    draft.tools = using.tools;
    for of_model in at_its_points(laying.model, &name.text, &points) {
        draft.assertions.extend(of_model.needs.iter().cloned());
        let sets = of_model.makes.iter();
        let sets = sets.map(|(variable, value)| Effect::Set { variable: *variable, value: *value });
        draft.effects.extend(sets);
    }
    draft.capability = capability;
    draft.follows = judged.follows;
    Some(draft)
}

/// What the model says of a reading: at each of the points that are read, where it tells them apart.
fn at_its_points<'m>(model: &'m Model, name: &str, points: &[String]) -> Vec<&'m ModelReading> {
    let at_one = points.iter().map(|point| model.readings.get(&at_point(name, point)));
    let at_each: Option<Vec<_>> = at_one.collect();
    match at_each.filter(|all| !all.is_empty()) {
        Some(all) => all,
        None => model.readings.get(name).into_iter().collect(),
    }
}

/// Says so where an instrument of another kind is named than the model's reading is of.
fn right_kind(laying: &mut Laying<'_>, act: &Act, wanted: &ModelReading, instrument: &Instrument) {
    if wanted.kind == instrument.kind {
        return;
    }
    let units = &laying.world.units;
    let (is, wants) = (kind_said(units, instrument.kind), kind_said(units, wanted.kind));
    let span = names(act, "using").first().map_or(act.span, |name| name.span);
    laying.found.add(&WrongInstrument {
        instrument: instrument.words.said.clone(),
        span,
        declared: wanted.span,
        is: format!("for {is}"),
        wanted: format!("an instrument that measures {wants}"),
    });
}

fn points(laying: &mut Laying<'_>, act: &Act) -> Vec<String> {
    let mut points: Vec<&Name> = Vec::new();
    for point in names(act, "at") {
        if points.len() == MOST_POINTS {
            let span = point.span;
            laying.found.add(&TooMany { what: "points of one reading", most: MOST_POINTS, span });
            break;
        }
        match points.iter().find(|known| known.text == point.text) {
            Some(first) => {
                let (what, name) = ("point".to_owned(), point.text.clone());
                let (first, again) = (first.span, point.span);
                laying.found.add(&DoubledName { what, name, first, again });
            }
            None => points.push(point),
        }
    }
    let here = |point: &Name| laying.scope.points.get(&point.text).unwrap_or(&point.text).clone();
    points.into_iter().map(here).collect()
}

/// What `expect` and `usually` say.
pub(super) struct Expected {
    pub(super) expect: Option<Limit>,
    pub(super) usually: Option<Limit>,
}

/// Reads `expect` and `usually`, and holds them against the instrument and each other.
pub(super) fn expected(
    laying: &mut Laying<'_>,
    act: &Act,
    kind: Option<KindId>,
    instrument: Option<&Instrument>,
) -> Expected {
    let mut read = |word: &str| {
        let written = limit_in(act, word)?;
        Some((laying.limit(written, kind)?, written.span))
    };
    let (expect, usually) = (read("expect"), read("usually"));
    if let Some((limit, span)) = &usually {
        within_reach(laying, limit, *span, "takes for usual", instrument);
    }
    let expect =
        expect.filter(|(limit, span)| within_reach(laying, limit, *span, "expects", instrument));
    if let (Some((expect, expect_span)), Some((usually, span))) = (&expect, &usually)
        && !expect.range.covers(&usually.range)
    {
        laying.found.add(&UsuallyOutside {
            usually: usually.written.clone(),
            span: *span,
            expect: expect.written.clone(),
            expect_span: *expect_span,
        });
    }
    let limit = |(limit, _)| limit;
    Expected { expect: expect.map(limit), usually: usually.map(limit) }
}

/// What gives a one-sided limit its other side: what is expected, else the scale's own nothing.
fn other_side(instrument: &Instrument, expect: Option<&Limit>) -> Range {
    if let Some(expect) = expect {
        return expect.range.clone();
    }
    let nothing = |bound: &&Bound| bound.value == Exact::from_integer(0.into());
    Range { lower: instrument.range.lower.as_ref().filter(nothing).cloned(), upper: None }
}

/// How a reading is shown.
struct Shown {
    kind: KindId,
    unit: UnitId,
    decimals: u32,
}

fn shown(units: &Units, instrument: Option<&Instrument>, limits: &[&Limit]) -> Shown {
    match (instrument, limits.first()) {
        (Some(instrument), _) => Shown {
            kind: instrument.kind,
            unit: instrument.unit,
            decimals: digits_of(units, instrument, limits),
        },
        (None, Some(limit)) => {
            Shown { kind: limit.kind, unit: limit.unit, decimals: limit.decimals }
        }
        (None, None) => Shown { kind: Units::NUMBER, unit: Units::ONE, decimals: 0 },
    }
}

fn fallback(expect: Option<&Limit>) -> Possible {
    let range = expect.map(|expect| expect.range.clone()).unwrap_or_default();
    Possible { range, grid: None }
}

fn bounded_by(instrument: Option<&Instrument>, expect: Option<&Limit>) -> String {
    match (expect, instrument) {
        (Some(expect), _) => format!("{} is expected, and nothing else is taken", expect.written),
        (None, Some(instrument)) => {
            format!("the {} shows {}", instrument.words.said, instrument.range_written)
        }
        (None, None) => String::new(),
    }
}
