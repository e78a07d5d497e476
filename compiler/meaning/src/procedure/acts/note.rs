//! `note "…"`, and `not "…"`: what a step is not.

use super::super::laying::{Laying, Lines};
use super::shape::{Bodies, does_not_fit, span_of};
use super::{Lay, Verb};
use locknut_graph::{Outline, Prose};
use locknut_syntax::tree::{Act, Object};

pub(super) const NOTE: Verb = Verb {
    word: "note",
    form: "note \"…\"",
    clauses: &[],
    bodies: Bodies::None,
    lay: Lay::Remark(note),
};

pub(super) const NOT: Verb = Verb {
    word: "not",
    form: "not \"what this step is not\"",
    clauses: &[],
    bodies: Bodies::None,
    lay: Lay::Remark(not),
};

fn note<'w>(laying: &mut Laying<'w>, act: &'w Act, out: &mut Lines) {
    out.extend(text(laying, act, NOTE.form).map(|text| Outline::Note { text }));
}

fn not<'w>(laying: &mut Laying<'w>, act: &'w Act, out: &mut Lines) {
    out.extend(text(laying, act, NOT.form).map(|text| Outline::Not { text }));
}

fn text(laying: &mut Laying<'_>, act: &Act, form: &str) -> Option<Prose> {
    if let [Object::Text(text)] = act.objects.as_slice() {
        return Some(laying.prose(text));
    }
    let span = act.objects.first().map_or(act.verb.span, span_of);
    does_not_fit(laying, act, form, span);
    None
}
