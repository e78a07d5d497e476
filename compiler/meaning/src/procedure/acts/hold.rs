//! `hold THING "how" by ROLE until STEP is done`: somebody's hands are taken until a step is done.

use super::super::laying::Laying;
use super::super::people::{HELD, LET_GO};
use super::draft::Draft;
use super::shape::{Bodies, does_not_fit, names, span_of};
use super::{Lay, Verb};
use crate::findings::names::SaysTooLittle;
use crate::findings::people::HeldTooLate;
use locknut_graph::{ActKind, Condition, Effect, LineValue, Test};
use locknut_syntax::tree::{Act, Object};

const FORM: &str = "hold THING \"how\" by ROLE until STEP is done";

pub(super) const VERB: Verb = Verb {
    word: "hold",
    form: FORM,
    clauses: &["at", "until"],
    bodies: Bodies::None,
    lay: Lay::Line(hold),
};

fn hold<'w>(laying: &mut Laying<'w>, act: &'w Act) -> Option<Draft<'w>> {
    let (thing, how) = match act.objects.as_slice() {
        [Object::Name(thing)] => (thing, None),
        [Object::Name(thing), Object::Text(how)] => (thing, Some(how)),
        objects => {
            let misfit = objects.iter().find(|object| !matches!(object, Object::Name(_)));
            does_not_fit(laying, act, FORM, misfit.map_or(act.verb.span, span_of));
            return None;
        }
    };
    if !super::element::is_known(laying, thing) {
        return None;
    }
    let points = names(act, "at");
    let here = laying.read(|reader, found| reader.at_points(thing, &points, found))?;
    let [here] = here.as_slice() else {
        laying.found.add(&which_of_them(act, &thing.text));
        return None;
    };
    let until = names(act, "until").first().copied()?;
    if !laying.scope.mentions.steps.contains_key(&until.text) {
        laying.unknown_step(until);
        return None;
    }
    let Some(hold) = laying.scope.holds.get(&act.span).cloned() else {
        laying.found.add(&by_whom(act));
        return None;
    };
    let step = laying.scope.steps.get(&until.text).cloned();
    if let Some(step) =
        step.as_ref().filter(|step| step.ended && laying.here.has_passed(&step.place))
    {
        laying.found.add(&HeldTooLate { hold: act.span, step: step.span });
    }
    let mut draft = Draft::of(ActKind::Do, "act-hold", act.span);
    draft.things = vec![here.text.clone()];
    draft.say("thing", LineValue::Words(hold.thing.clone()));
    draft.say("who", LineValue::Words(hold.by.clone()));
    draft.say(
        "step",
        match step {
            Some(step) => LineValue::Step(step.id),
            // Said once that step is reached.
            None => LineValue::Text(until.text.clone()),
        },
    );
    if let Some(how) = how {
        let how = laying.prose(how);
        "act-hold-how".clone_into(&mut draft.line.phrase);
        draft.say("how", LineValue::Prose(how));
    }
    draft.effects.push(Effect::Set { variable: hold.variable, value: HELD });
    draft.holds = Some(hold.variable);
    if hold.meets {
        let (variable, values, span) = (hold.variable, vec![LET_GO], act.span);
        draft.awaits = Some(Condition::Test(Test::Is { variable, values, span }));
    }
    Some(draft)
}

fn which_of_them(act: &Act, thing: &str) -> SaysTooLittle<'static> {
    SaysTooLittle {
        what: format!("this `hold` of {thing}"),
        lacks: "not which of them",
        span: act.span,
        consequence: "one person cannot hold them all, and nobody knows which is meant",
        mend: "say at which one point, and write a `hold` for each: hold THING at POINT by ROLE until STEP is done",
    }
}

fn by_whom(act: &Act) -> SaysTooLittle<'static> {
    SaysTooLittle {
        what: "this `hold`".to_owned(),
        lacks: "not by which one person",
        span: act.span,
        consequence: "everybody thinks that somebody else holds it",
        mend: "add: by mate",
    }
}
