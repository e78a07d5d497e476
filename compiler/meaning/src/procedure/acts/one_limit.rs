//! `measure NAME using wear-card { accept usable-length … }`: an instrument that answers one limit with yes
//! or no. No figure is read, so nothing can be reckoned with it.

use super::super::coverage::Possible;
use super::super::laying::Laying;
use super::super::said;
use super::capability;
use super::draft::{ArmOut, Draft, Follows};
use super::expected::Expected;
use super::instruments::{Using, cautions, listed};
use super::limits::{self, Subject};
use super::measure::{About, Accepts, Read, Whose, accepts};
use super::readings;
use super::verdict::{self, Judged, judged};
use crate::findings::readings::{OtherFigure, ShowsNoFigure};
use crate::world::Instrument;
use locknut_finding::Span;
use locknut_graph::{
    ActArm, ActKind, Effect, LineValue, ReadingId, ReadingKind, Rule, SourcedLimit, VariableId,
    Verdict, Way, Words,
};
use locknut_quantity::Range;
use locknut_syntax::tree::{Act, Body, Name, Outcome};

/// What it answers.
const ANSWERS: [&str; 2] = ["yes", "no"];

/// A line that is read with such an instrument.
pub(super) struct OneLimit<'a, 'w> {
    pub(super) act: &'w Act,
    pub(super) name: &'a Name,
    pub(super) whose: Whose<'a>,
    pub(super) instrument: &'w Instrument,
    pub(super) using: Using<'w>,
    pub(super) points: Vec<String>,
    pub(super) expected: Expected,
}

/// Reads the line.
pub(super) fn read<'w>(laying: &mut Laying<'w>, line: OneLimit<'_, 'w>) -> Read<'w> {
    let OneLimit { act, name, whose, instrument, using, points, expected } = line;
    let mut judged = match (whose, &act.body) {
        (Whose::Same(_) | Whose::Other(_), Body::Verdict { accept: Some(accept), span, .. }) => {
            verdict::accepts(laying, accept, Some(instrument.kind), *span)
        }
        _ => judged(laying, act, Some(instrument.kind)),
    };
    let rule = judged.rule.or(whose.rule());
    let of_line = accepts(&judged.verdict);
    decides_by_it(laying, name, instrument, &judged, of_line.as_ref());
    surely(laying, name, instrument, rule, of_line.as_ref());
    let capability = weigh(laying, name, instrument, &mut judged, &expected);
    decides(laying, name, instrument, &judged, &expected);
    let outcome = match &act.body {
        Body::Verdict { otherwise, .. } => otherwise.as_deref(),
        Body::None | Body::Arms { .. } | Body::Table { .. } => None,
    };
    let (reading, variable) = taken(laying, name, whose);
    let limit = limit_of(judged.verdict);
    let written = limit.as_ref().map(|limit| limit.limit.written.clone()).unwrap_or_default();
    let kind = ActKind::Observe { reading, question: None, verdict: arms(&written, act.span) };
    let phrase = match points.len() {
        0 => "act-one-limit",
        1 => "act-one-limit-point",
        _ => "act-one-limit-points",
    };
    let mut draft = Draft::of(kind, phrase, act.span);
    draft.say("reading", LineValue::Reading(reading));
    draft.say("instrument", LineValue::Words(instrument.words.clone()));
    if !points.is_empty() {
        let words = points.iter().map(|point| Words::of(point)).collect();
        draft.say("points", LineValue::List(words));
    }
    if let Some(SourcedLimit { limit, per, .. }) = limit {
        draft.say("limit", LineValue::Limit(limit));
        if let Some(per) = per {
            draft.say("per", LineValue::Prose(per));
        }
    }
    draft.instrument = Some(listed(laying, instrument));
    draft.cautions = cautions(laying, instrument, act.span);
    draft.tools = using.tools;
    draft.by_hand = true;
    draft.capability = capability;
    draft.follows = follows(variable, outcome);
    let about = About {
        name: name.clone(),
        reading,
        kind: Some(instrument.kind),
        points,
        expected,
        accepts: of_line,
        rule,
        ways: ways(variable),
    };
    Read { draft, about }
}

/// The ways out of such a reading where it is inside, and where it is outside.
fn ways(variable: Option<VariableId>) -> [(Way, Vec<Effect>); 2] {
    let sets =
        |value| variable.map(|variable| Effect::Set { variable, value }).into_iter().collect();
    [(Way::Arm(0), sets(0)), (Way::Arm(1), sets(1))]
}

fn follows(variable: Option<VariableId>, otherwise: Option<&Outcome>) -> Follows<'_> {
    let sets = |value| variable.map(|variable| Effect::Set { variable, value });
    Follows::Arms(vec![
        ArmOut { ways: vec![(0, sets(0))], outcome: None },
        ArmOut { ways: vec![(1, sets(1))], outcome: otherwise },
    ])
}

fn arms(limit: &str, span: Span) -> Verdict {
    let arm =
        |answer, written| ActArm { range: None, whole: None, answers: vec![answer], written, span };
    Verdict::Arms(vec![arm(0, limit.to_owned()), arm(1, format!("not {limit}"))])
}

fn limit_of(verdict: Verdict) -> Option<SourcedLimit> {
    match verdict {
        Verdict::Accept { limit, computed: None } => Some(limit),
        Verdict::Accept { computed: Some(_), .. } | Verdict::None | Verdict::Arms(_) => None,
    }
}

/// The answer is known by the line's name, where it is the line's own.
fn taken(
    laying: &mut Laying<'_>,
    name: &Name,
    whose: Whose<'_>,
) -> (ReadingId, Option<VariableId>) {
    match whose {
        Whose::Line | Whose::Other(_) => {
            readings::answer(laying, name, &ANSWERS.map(str::to_owned))
        }
        Whose::Same(_) => {
            let answers = ANSWERS.iter().map(|answer| Words::of(answer)).collect();
            let kind = ReadingKind::Answer { answers, variable: None };
            (readings::unnamed(laying, &name.text, kind, name.span), None)
        }
    }
}

/// The limit of the line must be the very one that it answers.
fn decides_by_it(
    laying: &mut Laying<'_>,
    name: &Name,
    instrument: &Instrument,
    judged: &Judged<'_>,
    of_line: Option<&Accepts>,
) {
    if let Some(limit) = of_line {
        if limit.computed || limit.range != instrument.range {
            laying.found.add(&other_figure(laying, instrument, limit));
        }
        return;
    }
    let told = match &judged.verdict {
        // A limit that could not be read is told already.
        Verdict::Arms(arms) if arms.is_empty() => return,
        Verdict::Arms(_) => judged.body.unwrap_or(name.span),
        Verdict::None | Verdict::Accept { .. } => name.span,
    };
    laying.found.add(&ShowsNoFigure::nothing_to_answer(
        name.text.clone(),
        told,
        instrument.words.said.clone(),
        instrument.span,
        instrument.range_written.clone(),
    ));
}

fn other_figure(laying: &Laying<'_>, instrument: &Instrument, limit: &Accepts) -> OtherFigure {
    let units = &laying.world.units;
    let in_words = |range: &Range| said::range(units, range, instrument, 0);
    OtherFigure {
        instrument: instrument.words.said.clone(),
        declared: instrument.span,
        answers: in_words(&instrument.range),
        limit: if limit.computed { limit.written.clone() } else { in_words(&limit.range) },
        span: limit.span,
        half: half(&limit.range, &instrument.range),
    }
}

/// Whether it answers one side of a limit with two.
fn half(limit: &Range, answers: &Range) -> bool {
    let two = limit.lower.is_some() && limit.upper.is_some();
    let low = answers.upper.is_none() && answers.lower == limit.lower;
    let high = answers.lower.is_none() && answers.upper == limit.upper;
    two && (low || high)
}

/// A limit can be guarded only by reading against a narrower one, and it knows one limit.
fn surely(
    laying: &mut Laying<'_>,
    name: &Name,
    instrument: &Instrument,
    rule: Option<(Rule, Span)>,
    of_line: Option<&Accepts>,
) {
    let Some(limit) = of_line else { return };
    let (rule, said) = rule.unwrap_or((laying.world.metrology.rule, limit.span));
    if rule.guards() {
        laying.found.add(&ShowsNoFigure::cannot_be_guarded(
            name.text.clone(),
            said,
            instrument.words.said.clone(),
            instrument.span,
        ));
    }
}

/// Where all that is expected lies on one side of its limit, it answers the same on every machine.
fn decides(
    laying: &mut Laying<'_>,
    name: &Name,
    instrument: &Instrument,
    judged: &Judged<'_>,
    expected: &Expected,
) {
    let Some(expect) = &expected.expect else { return };
    let possible = Possible { range: expect.range.clone(), grid: None };
    let subject = Subject {
        name,
        value: None,
        instrument: None,
        possible: Some(&possible),
        bounded_by: format!("{} is expected", expect.written),
        points: &[],
        unit: instrument.unit,
    };
    limits::decides(laying, judged, &subject);
}

fn weigh(
    laying: &mut Laying<'_>,
    name: &Name,
    instrument: &Instrument,
    judged: &mut Judged<'_>,
    expected: &Expected,
) -> Vec<locknut_graph::Capability> {
    if !matches!(judged.verdict, Verdict::Accept { computed: None, .. }) {
        return Vec::new();
    }
    // What guards it is told by itself.
    judged.rule = Some((Rule::Simple, name.span));
    let value = capability::Value {
        name,
        instrument: Some(instrument),
        worked_out: None,
        uncertain: None,
        other_side: expected.expect.as_ref().map(|expect| expect.range.clone()).unwrap_or_default(),
        usually: expected.usually.as_ref().map(|usually| usually.range.clone()),
        possible: None,
        unit: instrument.unit,
        decimals: 0,
    };
    capability::weigh(laying, judged, &value)
}
