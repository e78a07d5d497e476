//! The shape of an act line: which clauses it takes, what may stand in its braces.

use super::super::laying::Laying;
use super::slips;
use crate::findings::flow::{BlockDoesNotFit, ClauseDoesNotFit, ObjectDoesNotFit};
use crate::findings::names::UnknownName;
use locknut_finding::Span;
use locknut_syntax::tree::{
    Act, Body, Clause, ClauseValue, Expression, LimitForm, Name, Object, Step, Substitute, Text,
};

/// Clauses that every act takes.
pub(super) const OF_ACTS: &[&str] = &["needs", "makes", "takes", "by", "despite"];

/// Clauses that a call takes: what a subtask makes so, its own lines say.
pub(super) const OF_CALLS: &[&str] = &["needs", "takes", "by", "despite"];

/// Clauses that may stand more than once.
const REPEATED: &[&str] = &["needs", "makes", "despite", "to", "then", "turned"];

/// What may stand in the braces of an act.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Bodies {
    /// Nothing.
    None,
    /// Arms alone: an answer is not inside or outside of a limit.
    Arms,
    /// `accept … otherwise …`, or arms.
    Verdicts,
    /// The same, with substitutes.
    Readings,
    /// `otherwise` alone, or a table of parts.
    Choice,
}

/// Says so where a clause stands that the act does not take, or stands twice.
pub(super) fn check_clauses(
    laying: &mut Laying<'_>,
    act: &Act,
    form: &str,
    own: &[&str],
    common: &[&str],
) {
    let taken: Vec<&str> = own.iter().chain(common).copied().collect();
    check(laying, &act.clauses, &act.verb.text, form, &taken);
}

/// The same for the head of a step.
pub(in super::super) fn check_step_clauses(laying: &mut Laying<'_>, step: &Step) {
    let taken = ["by", "takes", "needs", "despite"];
    let form = "step NAME \"what is done\" by …, takes …, needs …";
    check(laying, &step.clauses, "step", form, &taken);
    super::draft::answers(laying, &step.clauses, step.span);
}

fn check(laying: &mut Laying<'_>, clauses: &[Clause], what: &str, form: &str, taken: &[&str]) {
    let mut seen: Vec<(&str, Span)> = Vec::new();
    for clause in clauses {
        let word = clause.word.text.as_str();
        let first = seen.iter().find(|(known, _)| *known == word).map(|(_, span)| *span);
        let twice = first.filter(|_| !REPEATED.contains(&word));
        if !taken.contains(&word) || twice.is_some() {
            laying.found.add(&ClauseDoesNotFit {
                act: what.to_owned(),
                word: word.to_owned(),
                span: clause.word.span,
                first: twice,
                form: form.to_owned(),
                taken: taken.iter().map(|word| (*word).to_owned()).collect(),
            });
        }
        seen.push((word, clause.word.span));
    }
}

/// Says so where something stands in the braces that does not belong there.
pub(super) fn check_body(laying: &mut Laying<'_>, act: &Act, form: &str, wanted: Bodies) {
    let (what, span) = match &act.body {
        Body::None => return,
        Body::Verdict { substitutes, .. } if misplaced(substitutes, wanted) => {
            ("a substitute", substitutes.first().map_or(act.span, |first| first.span))
        }
        Body::Verdict { accept: Some(accept), .. } => ("accept", accept.span),
        Body::Verdict { accept: None, otherwise: Some(outcome), .. } => ("otherwise", outcome.span),
        Body::Verdict { accept: None, otherwise: None, span, .. } => ("a block", *span),
        Body::Arms { span, .. } => ("arms", *span),
        Body::Table { span, .. } => ("a table", *span),
    };
    let fits = match wanted {
        Bodies::None => false,
        Bodies::Arms => what == "arms",
        Bodies::Verdicts | Bodies::Readings => what != "a substitute" && what != "a table",
        Bodies::Choice => what == "otherwise" || what == "a table",
    };
    if !fits {
        let (verb, form) = (act.verb.text.clone(), form.to_owned());
        laying.found.add(&BlockDoesNotFit { verb, what, span, form });
    }
}

/// Only what an instrument reads can be read by another.
fn misplaced(substitutes: &[Substitute], wanted: Bodies) -> bool {
    !substitutes.is_empty() && wanted != Bodies::Readings
}

/// The clause with this word.
pub(super) fn clause<'t>(act: &'t Act, word: &str) -> Option<&'t Clause> {
    act.clauses.iter().find(|clause| clause.word.text == word)
}

/// The names in the clause with this word; none where it is not there.
pub(in super::super) fn names<'t>(act: &'t Act, word: &str) -> Vec<&'t Name> {
    clause(act, word).map(|clause| names_of(&clause.value)).unwrap_or_default()
}

/// The names that a clause's value consists of: a lone name may have been read as a value.
pub(super) fn names_of(value: &ClauseValue) -> Vec<&Name> {
    if let ClauseValue::Names(names) = value {
        return names.iter().collect();
    }
    if let ClauseValue::Limit(limit) = value
        && let LimitForm::Just(Expression::Name(name)) = &limit.form
    {
        return vec![name];
    }
    Vec::new()
}

/// The limit in the clause with this word.
pub(super) fn limit_in<'t>(act: &'t Act, word: &str) -> Option<&'t locknut_syntax::tree::Limit> {
    if let ClauseValue::Limit(limit) = &clause(act, word)?.value { Some(limit) } else { None }
}

/// The text in the clause with this word.
pub(super) fn text_in<'t>(act: &'t Act, word: &str) -> Option<&'t Text> {
    if let ClauseValue::Text(text) = &clause(act, word)?.value { Some(text) } else { None }
}

/// The one name that the act is about; says so where there is none, or more than it takes.
pub(super) fn one_name<'t>(laying: &mut Laying<'_>, act: &'t Act, form: &str) -> Option<&'t Name> {
    match act.objects.as_slice() {
        [Object::Name(name)] => Some(name),
        [Object::Name(article), Object::Name(name)] if slips::is_article(&article.text) => {
            let near = name.text.clone();
            laying.found.add(&UnknownName {
                wanted: "name",
                name: format!("{} {near}", article.text),
                span: article.span.to(name.span),
                near: Some(near),
                else_is: None,
            });
            Some(name)
        }
        [Object::Name(name), rest @ ..] => {
            for extra in rest {
                does_not_fit(laying, act, form, span_of(extra));
            }
            Some(name)
        }
        [other, ..] => {
            does_not_fit(laying, act, form, span_of(other));
            None
        }
        [] => {
            does_not_fit(laying, act, form, act.verb.span);
            None
        }
    }
}

/// Says that something stands where this act wants something else.
pub(super) fn does_not_fit(laying: &mut Laying<'_>, act: &Act, form: &str, span: Span) {
    let missing = act.objects.is_empty();
    let (verb, form) = (act.verb.text.clone(), form.to_owned());
    laying.found.add(&ObjectDoesNotFit { verb, form, span, missing });
}

/// Where an object stands.
pub(super) fn span_of(object: &Object) -> Span {
    match object {
        Object::Name(name) => name.span,
        Object::Text(text) => text.span,
        Object::Quantity(quantity) => quantity.span,
        Object::Definition { name, value } => name.span.to(value.span()),
        Object::UpTo { most, name } => most.span.to(name.span),
        Object::Typed { name, kind } => name.span.to(kind.span),
    }
}
