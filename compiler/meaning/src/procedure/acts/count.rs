//! `count NAME, expect … { … }`: a whole number.

use super::super::coverage::Uncertain;
use super::super::laying::Laying;
use super::draft::Draft;
use super::expected::expected;
use super::instruments::{attach, using};
use super::limits::{self, Subject};
use super::readings::{self, Number, whole_numbers};
use super::shape::{Bodies, one_name};
use super::verdict::{Judged, judged};
use super::{Lay, Verb};
use crate::findings::quantities::ImpossibleValue;
use locknut_finding::Span;
use locknut_graph::{ActKind, LineValue, Verdict};
use locknut_quantity::Units;
use locknut_syntax::tree::Act;

const FORM: &str = "count NAME, expect … { accept … / otherwise … }";

pub(super) const VERB: Verb = Verb {
    word: "count",
    form: FORM,
    clauses: &["using", "expect", "usually", "proves"],
    bodies: Bodies::Verdicts,
    lay: Lay::Line(count),
};

/// Nothing is counted to two and a half.
fn whole(laying: &mut Laying<'_>, judged: &Judged<'_>) {
    let spans: Vec<Span> = match &judged.verdict {
        Verdict::None => Vec::new(),
        Verdict::Accept { limit, .. } => vec![limit.span],
        Verdict::Arms(arms) => arms.iter().map(|arm| arm.span).collect(),
    };
    for (limit, span) in judged.limits().into_iter().zip(spans) {
        if limit.range.ends().iter().all(|end| end.is_integer()) {
            continue;
        }
        laying.found.add(&ImpossibleValue {
            written: limit.written.clone(),
            span,
            why: "what is counted comes to whole numbers alone".to_owned(),
            instead: None,
            narrow: None,
        });
    }
}

fn count<'w>(laying: &mut Laying<'w>, act: &'w Act) -> Option<Draft<'w>> {
    let name = one_name(laying, act, FORM)?;
    let using = using(laying, act);
    let expected = expected(laying, act, Some(Units::NUMBER), None);
    let judged = judged(laying, act, Some(Units::NUMBER));
    let possible = whole_numbers(expected.expect.as_ref());
    let bounded_by = match &expected.expect {
        Some(expect) => format!("{} is expected, and nothing else is taken", expect.written),
        None => "a count is a whole number from 0 up".to_owned(),
    };
    let subject = Subject {
        name,
        value: None,
        instrument: None,
        possible: Some(&possible),
        bounded_by,
        points: &[],
        unit: Units::ONE,
    };
    whole(laying, &judged);
    limits::check(laying, &judged, &subject);
    limits::decides(laying, &judged, &subject);
    let number = Number {
        kind: Units::NUMBER,
        unit: Units::ONE,
        decimals: 0,
        points: Vec::new(),
        possible,
        usually: expected.usually,
        rough: false,
        sum: None,
        doubt: Some(Uncertain::nothing()),
        expected: expected.expect.is_some(),
        named: true,
    };
    let reading = readings::number(laying, name, number);
    let kind = ActKind::Count { reading, expect: expected.expect, verdict: judged.verdict };
    let mut draft = Draft::of(kind, "act-count", act.span);
    draft.say("reading", LineValue::Reading(reading));
    attach(laying, &using, &mut draft);
    draft.follows = judged.follows;
    Some(draft)
}
