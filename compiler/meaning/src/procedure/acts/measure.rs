//! `measure NAME at POINT, … using INSTRUMENT, expect … { … }`

use super::super::build::Ways;
use super::super::coverage::{Growing, Possible, Uncertain};
use super::super::laying::{Laying, Lines};
use super::draft::{self, Draft};
use super::expected::{Expected, expected};
use super::instruments::{cautions, kind_said, listed, read_with, using};
use super::limits::{self, Subject, within_reach};
use super::one_limit::{self, OneLimit};
use super::readings::{self, Number, digits_of, shown_by};
use super::shape::{Bodies, names, one_name};
use super::substitutes::{self, Substituted};
use super::verdict::{self, judged};
use super::{Lay, Verb};
use super::{bare_difference, capability};
use crate::findings::names::{DoubledName, TooMany, UnknownName};
use crate::findings::readings::{ExpectedElsewhere, OtherScale, RestsOnRough, WrongInstrument};
use crate::world::near::nearest;
use crate::world::{Instrument, ModelReading, at_point};
use locknut_finding::Span;
use locknut_graph::{ActKind, Effect, LineValue, ReadingId, Rule, Verdict, Way, Words};
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
    bodies: Bodies::Readings,
    lay: Lay::Reading,
};

/// Lays a reading, and what may be read in its place.
pub(super) fn lay<'w>(laying: &mut Laying<'w>, act: &'w Act, ways: Ways, out: &mut Lines) -> Ways {
    let Some(read) = measure(laying, act, Whose::Line) else { return ways };
    match &act.body {
        Body::Verdict { substitutes, otherwise, .. } if !substitutes.is_empty() => {
            let line = Substituted { act, substitutes, otherwise: otherwise.as_deref() };
            substitutes::lay(laying, &line, read, ways, out)
        }
        Body::None | Body::Verdict { .. } | Body::Arms { .. } | Body::Table { .. } => {
            draft::put(laying, act, read.draft, ways, out)
        }
    }
}

/// A reading before it stands in the graph.
pub(super) struct Read<'w> {
    pub(super) draft: Draft<'w>,
    pub(super) about: About,
}

/// What a substitute has to know of the reading of its line, and what is to be known of the substitute.
pub(super) struct About {
    pub(super) name: Name,
    pub(super) reading: ReadingId,
    pub(super) kind: Option<KindId>,
    pub(super) points: Vec<String>,
    pub(super) expected: Expected,
    pub(super) accepts: Option<Accepts>,
    pub(super) rule: Option<(Rule, Span)>,
    /// The ways out where it is inside, and where it is outside, with what they set.
    pub(super) ways: [(Way, Vec<Effect>); 2],
}

/// A limit, to be held against that of a substitute.
pub(super) struct Accepts {
    /// Of a limit that is worked out, only which ends it has.
    pub(super) range: Range,
    pub(super) computed: bool,
    pub(super) written: String,
    pub(super) span: Span,
}

/// Whose reading it is.
#[derive(Clone, Copy)]
pub(super) enum Whose<'a> {
    /// A line's own.
    Line,
    /// A substitute's, of the same quantity as that line.
    Same(&'a About),
    /// A substitute's, of another quantity than that line.
    Other(&'a About),
}

impl<'a> Whose<'a> {
    /// The line that it takes its name, its points and what is expected from.
    fn same(self) -> Option<&'a About> {
        if let Self::Same(line) = self { Some(line) } else { None }
    }

    /// How its line decides.
    pub(super) fn rule(self) -> Option<(Rule, Span)> {
        match self {
            Self::Line => None,
            Self::Same(line) | Self::Other(line) => line.rule,
        }
    }
}

/// Reads a line that measures.
pub(super) fn measure<'w>(
    laying: &mut Laying<'w>,
    act: &'w Act,
    whose: Whose<'_>,
) -> Option<Read<'w>> {
    let line = whose.same();
    let (name, rough) = match act.objects.as_slice() {
        [Object::Name(name), Object::Name(how)] if how.text == "roughly" => (name, true),
        _ => (one_name(laying, act, FORM)?, false),
    };
    if let (true, Body::Verdict { span, .. } | Body::Arms { span, .. }) = (rough, &act.body) {
        laying.found.add(&RestsOnRough { used: *span, read: name.span, name: name.text.clone() });
    }
    let points = line.map_or_else(|| points(laying, act), |line| line.points.clone());
    let using = using(laying, act);
    let instrument = read_with(laying, act, name, &using);
    let of_model = laying.model.readings.get(&name.text);
    match line {
        Some(line) => same_scale(laying, line, instrument?, act)?,
        None => of_this_model(laying, act, name, of_model, instrument),
    }
    if let Some(instrument) = instrument.filter(|instrument| instrument.one_limit) {
        let expected = match line {
            Some(line) => line.expected.by(laying, None, act.span),
            None => expected_here(laying, (act, name), of_model, None, Some(instrument.kind)),
        };
        let line = OneLimit { act, name, whose, instrument, using, points, expected };
        let mut read = one_limit::read(laying, line);
        as_the_model_says(laying, &mut read.draft, &name.text, &read.about.points);
        return Some(read);
    }
    let kind = instrument.map(|instrument| instrument.kind);
    let expected = match line {
        Some(line) => line.expected.by(laying, instrument, act.span),
        None => expected_here(laying, (act, name), of_model, instrument, kind),
    };
    let mut judged = match (whose, &act.body) {
        (Whose::Same(_) | Whose::Other(_), Body::Verdict { accept: Some(accept), span, .. }) => {
            verdict::accepts(laying, accept, kind, *span)
        }
        _ => judged(laying, act, kind),
    };
    judged.rule = judged.rule.or(whose.rule());
    if let (Some(kind), Whose::Line) = (kind, whose) {
        bare_difference::tell(laying, act, kind);
    }
    let limits: Vec<&Limit> = expected.expect.iter().chain(judged.limits()).collect();
    let shown = shown(&laying.world.units, instrument, &limits);
    let possible = instrument.map(|instrument| shown_by(instrument, expected.expect.as_ref()));
    let subject = Subject {
        name,
        value: None,
        instrument,
        possible: possible.as_ref().filter(|_| !expected.unread),
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
                worked_out: None,
                uncertain: None,
                other_side: other_side(instrument, expected.expect.as_ref()),
                usually: expected.usually.as_ref().map(|usually| usually.range.clone()),
                possible: possible.as_ref(),
                unit: shown.unit,
                decimals: shown.decimals,
            };
            capability::weigh(laying, &mut judged, &value)
        }
        None => Vec::new(),
    };
    limits::decides(laying, &judged, &subject);
    let number = Number {
        kind: shown.kind,
        unit: shown.unit,
        decimals: shown.decimals,
        points: points.clone(),
        doubt: doubt(instrument, possible.as_ref()),
        possible: possible.unwrap_or_else(|| fallback(expected.expect.as_ref())),
        usually: expected.usually.clone(),
        rough,
        sum: None,
        expected: expected.expect.is_some(),
        // The name is that of the line, and speaks of what is read there.
        named: line.is_none(),
    };
    let reading = readings::number(laying, name, number);
    let accepts = accepts(&judged.verdict);
    let kind_of =
        ActKind::Measure { reading, expect: expected.expect.clone(), verdict: judged.verdict };
    let phrase = if rough { "act-measure-roughly" } else { "act-measure" };
    let mut draft = Draft::of(kind_of, phrase, act.span);
    draft.say("reading", LineValue::Reading(reading));
    if !points.is_empty() {
        let words = points.iter().map(|point| Words::of(point)).collect();
        draft.say("points", LineValue::List(words));
    }
    if let Some(instrument) = instrument {
        draft.say("instrument", LineValue::Words(instrument.words.clone()));
        draft.instrument = Some(listed(laying, instrument));
        draft.cautions = cautions(laying, instrument, act.span);
    }
    draft.tools = using.tools;
    as_the_model_says(laying, &mut draft, &name.text, &points);
    draft.capability = capability;
    draft.follows = judged.follows;
    let (name, rule) = (name.clone(), judged.rule);
    let ways = [(Way::Accepted, Vec::new()), (Way::Otherwise, Vec::new())];
    Some(Read {
        draft,
        about: About { name, reading, kind, points, expected, accepts, rule, ways },
    })
}

/// Says so where the model's reading of that name is another, or nearly has that name.
fn of_this_model(
    laying: &mut Laying<'_>,
    act: &Act,
    name: &Name,
    of_model: Option<&ModelReading>,
    instrument: Option<&Instrument>,
) {
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
}

/// A substitute of the same quantity shows figures that can be compared; says so where it does not.
fn same_scale(
    laying: &mut Laying<'_>,
    line: &About,
    instrument: &Instrument,
    act: &Act,
) -> Option<()> {
    let kind = line.kind.filter(|kind| *kind != instrument.kind);
    let Some(kind) = kind else { return Some(()) };
    let units = &laying.world.units;
    let (is, wanted) = (kind_said(units, instrument.kind), kind_said(units, kind));
    laying.found.add(&OtherScale {
        name: line.name.text.clone(),
        span: names(act, "using").first().map_or(act.span, |name| name.span),
        instrument: instrument.words.said.clone(),
        declared: instrument.span,
        is,
        wanted,
    });
    None
}

fn expected_here(
    laying: &mut Laying<'_>,
    (act, name): (&Act, &Name),
    of_model: Option<&ModelReading>,
    instrument: Option<&Instrument>,
    kind: Option<KindId>,
) -> Expected {
    let mut expected = expected(laying, act, kind, instrument);
    let of_both = |of_model: &ModelReading| {
        let (line, span) = (expected.expect.clone()?, expected.span?);
        let model = of_model.expect.clone()?;
        let apart = line.kind == model.kind && line.range.intersect(&model.range).is_empty();
        apart.then_some((line, span, model, of_model.span))
    };
    if let Some((line, span, model, declared)) = of_model.and_then(of_both) {
        laying.found.add(&ExpectedElsewhere {
            name: name.text.clone(),
            line: line.written,
            span,
            model: model.written,
            declared,
        });
    }
    if expected.expect.is_none()
        && !expected.unread
        && let Some((of_model, expect)) = of_model.and_then(|one| Some((one, one.expect.clone()?)))
        && (expect.kind != kind.unwrap_or(expect.kind)
            || within_reach(laying, &expect, of_model.span, "expects", instrument))
    {
        expected.expect = Some(expect);
    }
    expected
}

fn doubt(instrument: Option<&Instrument>, possible: Option<&Possible>) -> Option<Uncertain> {
    possible.zip(instrument).map(|(possible, instrument)| Uncertain {
        grows: instrument.error.as_ref().and_then(|error| Growing::of(error, &possible.range)),
        error: instrument.error.as_ref().and_then(|error| error.over(&possible.range)),
        uncertainty: instrument
            .standard_uncertainty
            .as_ref()
            .and_then(|uncertainty| uncertainty.over(&possible.range)),
        cause: Some(instrument.span),
        causes: None,
    })
}

pub(super) fn accepts(verdict: &Verdict) -> Option<Accepts> {
    let Verdict::Accept { limit, computed } = verdict else { return None };
    Some(Accepts {
        range: computed.as_ref().map_or_else(|| limit.limit.range.clone(), capability::ends_of),
        computed: computed.is_some(),
        written: limit.limit.written.clone(),
        span: limit.span,
    })
}

/// What the model says of the reading holds for whoever takes it.
fn as_the_model_says(laying: &Laying<'_>, draft: &mut Draft<'_>, name: &str, points: &[String]) {
    for of_model in at_its_points(laying, name, points) {
        draft.assertions.extend(of_model.needs.iter().cloned());
        let sets = of_model.makes.iter();
        let sets = sets.map(|(variable, value)| Effect::Set { variable: *variable, value: *value });
        draft.effects.extend(sets);
    }
}

/// What the model says of a reading: at each of the points that are read, where it tells them apart.
fn at_its_points<'w>(laying: &Laying<'w>, name: &str, points: &[String]) -> Vec<&'w ModelReading> {
    let model = laying.model;
    let at_one = |point: &String| model.readings.get(&at_point(name, point));
    let at_each: Option<Vec<_>> = points.iter().map(at_one).collect();
    if let Some(all) = at_each.filter(|all| !all.is_empty()) {
        return all;
    }
    // At points of its own (`at top, left`) it is read on what the subtask is done at.
    let here = laying.scope.at.as_ref().and_then(at_one);
    here.or_else(|| model.readings.get(name)).into_iter().collect()
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
    if points.is_empty() {
        let at =
            laying.scope.at.as_ref().map_or(laying.scope.at_all.as_slice(), std::slice::from_ref);
        return at.to_vec();
    }
    let here = |point: &Name| laying.scope.points.get(&point.text).unwrap_or(&point.text).clone();
    points.into_iter().map(here).collect()
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
