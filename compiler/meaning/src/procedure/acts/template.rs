//! `use template gasket`: what is cut out of the printed sheet for this step.

use super::super::laying::{Laying, Lines};
use super::shape::{Bodies, does_not_fit, span_of};
use super::{Lay, Verb};
use locknut_graph::Outline;
use locknut_syntax::tree::{Act, Object};

pub(super) const VERB: Verb = Verb {
    word: "use",
    form: "use template NAME",
    clauses: &[],
    bodies: Bodies::None,
    lay: Lay::Remark(template),
};

fn template<'w>(laying: &mut Laying<'w>, act: &'w Act, out: &mut Lines) {
    let [Object::Name(word), Object::Name(name)] = act.objects.as_slice() else {
        let span = act.objects.first().map_or(act.verb.span, span_of);
        does_not_fit(laying, act, VERB.form, span);
        return;
    };
    if word.text != "template" {
        does_not_fit(laying, act, VERB.form, word.span);
        return;
    }
    let world = laying.world;
    let Some(template) = world.templates.get(&name.text) else {
        let known = world.templates.keys().map(String::as_str);
        laying.read(|reader, found| reader.unknown("template", name, known, found));
        return;
    };
    laying.build.template(template);
    out.push(Outline::Template { words: template.words.clone() });
}
