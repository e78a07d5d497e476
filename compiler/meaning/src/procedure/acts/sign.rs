//! `sign "…" by ROLE independent of STEP`: somebody answers for it with their name.

use super::super::laying::Laying;
use super::draft::Draft;
use super::readings;
use super::shape::{Bodies, clause, does_not_fit, names, span_of};
use super::{Lay, Verb};
use crate::findings::names::SaysTooLittle;
use crate::findings::people::{OwnWork, SignedTooEarly};
use locknut_graph::{ActKind, LineValue, ReadingKind, StepId, Words};
use locknut_syntax::tree::{Act, Name, Object};

const FORM: &str = "sign \"what is signed for\" by ROLE independent of STEP";

pub(super) const VERB: Verb = Verb {
    word: "sign",
    form: FORM,
    clauses: &["independent"],
    bodies: Bodies::None,
    lay: Lay::Line(sign),
};

fn sign<'w>(laying: &mut Laying<'w>, act: &'w Act) -> Option<Draft<'w>> {
    let [Object::Text(statement)] = act.objects.as_slice() else {
        let span = act.objects.first().map_or(act.verb.span, span_of);
        does_not_fit(laying, act, FORM, span);
        return None;
    };
    let statement = laying.prose(statement);
    let named = names(act, "by");
    let nobody = |role: &Name| matches!(role.text.as_str(), "anyone" | "all");
    let [role] = named[..] else {
        by_whom(laying, act, None);
        return None;
    };
    // Whoever did the work is one of them.
    if nobody(role) && clause(act, "independent").is_some() {
        by_whom(laying, act, Some(role));
        return None;
    }
    let role_words = Words::of(&role.text);
    let mut apart = Vec::new();
    for step in names(act, "independent") {
        // Whatever is named and stands further down is not done yet.
        let later = laying.scope.mentions.steps.get(&step.text).copied();
        if let Some(later) = later.filter(|_| !laying.scope.steps.contains_key(&step.text)) {
            laying.found.add(&SignedTooEarly { sign: act.span, step: later });
            continue;
        }
        let Some(here) = laying.step_named(step, true) else { continue };
        if !here.ended || laying.here.may_be_ahead(&here.place) {
            laying.found.add(&SignedTooEarly { sign: act.span, step: here.span });
            continue;
        }
        let id = here.id;
        apart.push(id);
        let own = laying.may_have_done(id, &role_words);
        // Who inspects it signs for it: that the work may be their own was told there.
        let told = laying.inspects_own_work_in(id, &role_words);
        if let Some(work) = own.filter(|_| !told) {
            let role = role_words.said.clone();
            let asked = clause(act, "independent").map_or(act.span, |clause| clause.span);
            laying.found.add(&OwnWork { role, work, asked, inspects: false });
        }
    }
    let reading = readings::unnamed(laying, "signature", ReadingKind::Text, act.span);
    let mut draft = Draft::of(ActKind::Record { reading }, "act-sign", act.span);
    draft.say("statement", LineValue::Prose(statement));
    draft.say("who", LineValue::Words(role_words.clone()));
    match apart.as_slice() {
        [] => {}
        [step] => {
            "act-sign-apart".clone_into(&mut draft.line.phrase);
            draft.say("step", LineValue::Step(*step));
        }
        _ => {
            "act-sign-apart-all".clone_into(&mut draft.line.phrase);
            draft.say("steps", LineValue::Steps(apart));
        }
    }
    draft.effects.extend(laying.inspections_by(&role_words));
    draft.signs = Some(role_words);
    Some(draft)
}

/// Offers somebody of the crew who did none of the work; of no crew, a role by way of example.
fn by_whom(laying: &mut Laying<'_>, act: &Act, instead_of: Option<&Name>) {
    let steps = names(act, "independent");
    let steps: Vec<StepId> = steps
        .into_iter()
        .filter_map(|step| laying.scope.steps.get(&step.text).map(|step| step.id))
        .collect();
    let apart =
        |role: &&Words| steps.iter().all(|step| laying.may_have_done(*step, role).is_none());
    let by = laying.people.crew.iter().find(apart).map(|role| format!("by {}", role.name));
    let mend = match (instead_of, by) {
        (Some(role), Some(by)) => format!("write “{by}” instead of “by {}”", role.text),
        (Some(role), None) => format!(
            "write one role instead of “{}”, of somebody who did none of this work, as in: by foreman",
            role.text
        ),
        (None, Some(by)) => format!("add: {by}"),
        (None, None) => "add the one role that signs, as in: by foreman".to_owned(),
    };
    laying.found.add(&SaysTooLittle {
        what: "this `sign`".to_owned(),
        lacks: "not by which one person",
        span: act.span,
        consequence: "anybody may sign, the one who did the work too",
        mend: &mend,
    });
}
