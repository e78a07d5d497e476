//! `confirm "…"`: must be so, else the job waits.

use super::super::laying::Laying;
use super::draft::Draft;
use super::shape::{Bodies, does_not_fit, span_of};
use super::{Lay, Verb};
use locknut_graph::{ActKind, LineValue};
use locknut_syntax::tree::{Act, Object};

const FORM: &str = "confirm \"what must be so\"";

pub(super) const VERB: Verb = Verb {
    word: "confirm",
    form: FORM,
    clauses: &["using", "proves"],
    bodies: Bodies::None,
    lay: Lay::Line(confirm),
};

fn confirm<'w>(laying: &mut Laying<'w>, act: &'w Act) -> Option<Draft<'w>> {
    let [Object::Text(statement)] = act.objects.as_slice() else {
        let span = act.objects.first().map_or(act.verb.span, span_of);
        does_not_fit(laying, act, FORM, span);
        return None;
    };
    let statement = laying.prose(statement);
    let using = super::instruments::using(laying, act);
    let mut draft = Draft::of(ActKind::Confirm, "act-confirm", act.span);
    draft.say("statement", LineValue::Prose(statement));
    super::instruments::attach(laying, &using, &mut draft);
    Some(draft)
}
