//! `wait D`, `wait D since STEP`: time that passes for certain.

use super::super::laying::Laying;
use super::draft::Draft;
use super::shape::{Bodies, does_not_fit, names, span_of};
use super::{Lay, Verb};
use crate::findings::flow::NotDoneBefore;
use locknut_graph::{ActKind, Effect, LineValue, Moment, StepId};
use locknut_syntax::tree::{Act, Expression, Name, Object};

const FORM: &str = "wait TIME since STEP";

pub(super) const VERB: Verb = Verb {
    word: "wait",
    form: FORM,
    clauses: &["since"],
    bodies: Bodies::None,
    lay: Lay::Line(wait),
};

fn wait<'w>(laying: &mut Laying<'w>, act: &'w Act) -> Option<Draft<'w>> {
    let written = match act.objects.as_slice() {
        [Object::Quantity(quantity)] => Expression::Quantity((**quantity).clone()),
        [Object::Name(name)] => Expression::Name(name.clone()),
        objects => {
            does_not_fit(laying, act, FORM, objects.first().map_or(act.verb.span, span_of));
            return None;
        }
    };
    let (seconds, duration) = laying.read(|reader, found| reader.duration(&written, found))?;
    let since = match names(act, "since").as_slice() {
        [] => None,
        [step, ..] => Some(ended(laying, step)?),
    };
    let phrase = if since.is_some() { "act-wait-since" } else { "act-wait" };
    let moment = match since {
        Some(step) => Some(Moment::StepEnd(step)),
        None => laying.wait_begins(),
    };
    let effect = match moment {
        Some(moment) => Effect::WaitSince { seconds: seconds.clone(), moment },
        None => Effect::Wait { seconds: seconds.clone() },
    };
    let kind = ActKind::Wait { seconds, duration: duration.clone(), since: moment };
    let mut draft = Draft::of(kind, phrase, act.span);
    draft.say("duration", LineValue::Quantity(duration));
    if let Some(step) = since {
        draft.say("step", LineValue::Step(step));
    }
    if since.is_none() {
        draft.begins = moment;
    }
    draft.effects = vec![effect];
    Some(draft)
}

/// A step that has ended for certain when this line is reached.
fn ended(laying: &mut Laying<'_>, name: &Name) -> Option<StepId> {
    let step = laying.step_named(name, true)?;
    if step.ended && laying.here.has_passed(&step.place) {
        return Some(step.id);
    }
    let (name, at) = (name.text.clone(), name.span);
    laying.found.add(&NotDoneBefore { name, at, step: step.span, for_a_wait: true });
    None
}
