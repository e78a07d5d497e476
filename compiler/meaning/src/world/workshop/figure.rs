//! `answers only usable-length`: an instrument that shows no figures, only whether one limit is kept.

use super::super::parts::Parts;
use super::super::read::Reader;
use crate::findings::names::SaysTooLittle;
use crate::findings::quantities::OneFigure;
use locknut_finding::{Findings, Span};
use locknut_quantity::{KindId, Limit};
use locknut_syntax::tree::{self, Attribute, Expression, LimitForm, Name, Thing};

/// The line that says what it answers.
pub(super) fn line(thing: &Thing) -> Option<&Attribute> {
    thing.attributes.iter().find(|one| Parts::of(one).says(&["answers", "only"]))
}

/// The name of the limit that such a line says; none where it gives a figure.
pub(super) fn limit_named(attribute: &Attribute) -> Option<&Name> {
    let mut parts = Parts::of(attribute);
    parts.says(&["answers", "only"]);
    if parts.says(&["at"]) { None } else { parts.word() }
}

/// The one limit that it answers; none where that cannot be read, or is none.
pub(super) fn read(
    attribute: &Attribute,
    kind: KindId,
    own: impl Fn(&tree::Limit) -> tree::Limit,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<Limit> {
    let mut parts = Parts::of(attribute);
    parts.says(&["answers", "only"]);
    let Some(written) = written(&mut parts).filter(|_| parts.done()) else {
        found.add(&SaysTooLittle {
            what: "this `answers only`".to_owned(),
            lacks: "not which limit",
            span: attribute.span,
            consequence: "nobody can tell what a yes of it means",
            mend: "write the name of a limit, or “at most 25 mm”, “at least 3 mm”, “3.2 .. 3.8 mm”",
        });
        return None;
    };
    let limit = reader.limit(&own(&written), Some(kind), found)?;
    let range = &limit.range;
    let one = range.lower.is_some() && range.width().is_some_and(|width| width == super::zero());
    if one {
        found.add(&OneFigure {
            written: limit.written.clone(),
            span: written.span,
            found: "a single value".to_owned(),
            wanted: "a limit",
            mend: "say what is inside of it: at most, at least, or a range".to_owned(),
        });
        return None;
    }
    Some(limit)
}

/// A name, a range, or one end in words.
fn written(parts: &mut Parts<'_>) -> Option<tree::Limit> {
    let first = parts.ahead().map_or(parts.span, |word| word.span);
    if parts.says(&["at", "most"]) {
        return end(parts, LimitForm::AtMost, first);
    }
    if parts.says(&["at", "least"]) {
        return end(parts, LimitForm::AtLeast, first);
    }
    if let Some(limit) = parts.limit() {
        return Some(limit.clone());
    }
    let name = parts.word()?;
    let form = LimitForm::Just(Expression::Name(name.clone()));
    Some(tree::Limit { form, span: name.span })
}

/// The figure behind `at most`.
fn end(
    parts: &mut Parts<'_>,
    form: impl Fn(Expression) -> LimitForm,
    first: Span,
) -> Option<tree::Limit> {
    let LimitForm::Just(value) = &parts.limit()?.form else { return None };
    Some(tree::Limit { form: form(value.clone()), span: first.to(value.span()) })
}
