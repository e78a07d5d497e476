//! `record NAME : serial`: something to write down.

use super::super::coverage::Possible;
use super::super::laying::Laying;
use super::draft::Draft;
use super::readings::{self, Number, whole_numbers};
use super::shape::{Bodies, does_not_fit, span_of};
use super::{Lay, Verb};
use crate::findings::names::UnknownName;
use crate::world::near::nearest;
use locknut_graph::{ActKind, LineValue, ReadingId, ReadingKind};
use locknut_quantity::Units;
use locknut_syntax::tree::{Act, Name, Object};

const FORM: &str = "record NAME : serial (or date, text, counter)";

/// What can be written down.
const KINDS: [&str; 4] = ["serial", "date", "text", "counter"];

pub(super) const VERB: Verb =
    Verb { word: "record", form: FORM, clauses: &[], bodies: Bodies::None, lay: Lay::Line(record) };

fn record<'w>(laying: &mut Laying<'w>, act: &'w Act) -> Option<Draft<'w>> {
    let (name, kind) = match act.objects.as_slice() {
        [Object::Typed { name, kind }] => (name, kind),
        objects => {
            does_not_fit(laying, act, FORM, objects.first().map_or(act.verb.span, span_of));
            return None;
        }
    };
    let reading = match kind.text.as_str() {
        "serial" => readings::record(laying, name, ReadingKind::Serial),
        "date" => readings::record(laying, name, ReadingKind::Date),
        "text" => readings::record(laying, name, ReadingKind::Text),
        "counter" => counter(laying, name),
        _ => {
            laying.found.add(&UnknownName {
                wanted: "sort of record",
                name: kind.text.clone(),
                span: kind.span,
                near: nearest(&kind.text, KINDS),
                else_is: Some("none of serial, date, text and counter".to_owned()),
            });
            readings::record(laying, name, ReadingKind::Text)
        }
    };
    let mut draft = Draft::of(ActKind::Record { reading }, "act-record", act.span);
    draft.say("reading", LineValue::Reading(reading));
    draft.say("record-kind", LineValue::Text(kind.text.clone()));
    Some(draft)
}

/// A meter's figure: a whole number of whatever it counts.
fn counter(laying: &mut Laying<'_>, name: &Name) -> ReadingId {
    let possible: Possible = whole_numbers(None);
    let number = Number {
        kind: Units::NUMBER,
        unit: Units::ONE,
        decimals: 0,
        points: Vec::new(),
        possible,
        usually: None,
        rough: false,
        sum: None,
        doubt: None,
        expected: false,
        named: true,
    };
    readings::number(laying, name, number)
}
