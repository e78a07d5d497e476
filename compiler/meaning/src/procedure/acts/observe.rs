//! `observe NAME "question" { dry -> … }`: an answer out of a few.

use super::super::laying::Laying;
use super::draft::{ArmOut, Draft, Follows};
use super::instruments::{attach, using};
use super::readings::answer;
use super::shape::{Bodies, does_not_fit, span_of};
use super::verdict::{MOST_ARMS, arm_span, at_most};
use super::{Lay, Verb};
use crate::findings::flow::PlainWanted;
use crate::findings::names::TooMany;
use crate::findings::readings::{ArmsGap, ArmsOverlap};
use locknut_finding::Span;
use locknut_graph::{ActArm, ActKind, Effect, LineValue, VariableId, Verdict};
use locknut_syntax::tree::{Act, Arm, Body, Guard, Name, Object, Outcome, Text};

const FORM: &str = "observe NAME \"question\" { ANSWER -> … }";

/// The answers where the arms name no others.
const YES_OR_NO: [&str; 2] = ["yes", "no"];

pub(super) const VERB: Verb = Verb {
    word: "observe",
    form: FORM,
    clauses: &["using", "proves"],
    bodies: Bodies::Arms,
    lay: Lay::Line(observe),
};

fn observe<'w>(laying: &mut Laying<'w>, act: &'w Act) -> Option<Draft<'w>> {
    let (name, question) = named(laying, act)?;
    let question = question.map(|question| laying.prose(question));
    let using = using(laying, act);
    let arms: &[Arm] = match &act.body {
        Body::Arms { arms, .. } => at_most(laying, arms),
        Body::None | Body::Verdict { .. } | Body::Table { .. } => &[],
    };
    let written = written_answers(laying, arms);
    let answers = answers(&written);
    if let Body::Arms { span, .. } = &act.body {
        gaps(laying, name, &written, &answers, *span);
    }
    let (reading, variable) = answer(laying, name, &answers);
    let (verdict, follows) = arms_of(arms, &answers, variable);
    let kind = ActKind::Observe { reading, question: question.clone(), verdict };
    let mut draft = Draft::of(kind, "act-observe", act.span);
    draft.say("reading", LineValue::Reading(reading));
    if let Some(question) = question {
        draft.say("question", LineValue::Prose(question));
    }
    attach(laying, &using, &mut draft);
    draft.follows = follows;
    Some(draft)
}

fn named<'t>(laying: &mut Laying<'_>, act: &'t Act) -> Option<(&'t Name, Option<&'t Text>)> {
    match act.objects.as_slice() {
        [Object::Name(name)] => Some((name, None)),
        [Object::Name(name), Object::Text(question)] => Some((name, Some(question))),
        objects => {
            does_not_fit(laying, act, FORM, objects.first().map_or(act.verb.span, span_of));
            None
        }
    }
}

/// Each answer that an arm names, at its place; a second arm for one answer is told.
fn written_answers(laying: &mut Laying<'_>, arms: &[Arm]) -> Vec<(String, Span)> {
    let mut written: Vec<(String, Span)> = Vec::new();
    for arm in arms {
        if let Some(rule) = &arm.rule {
            laying.found.add(&PlainWanted::answer_guarded(rule.span));
        }
        let Guard::Words(words) = &arm.guard else {
            laying.found.add(&PlainWanted::answer(arm_span(arm)));
            continue;
        };
        for word in words {
            match written.iter().find(|(known, _)| *known == word.text) {
                Some((_, first)) => laying.found.add(&ArmsOverlap {
                    name: "the answer".to_owned(),
                    shared: word.text.clone(),
                    first: *first,
                    again: word.span,
                }),
                None if written.len() == MOST_ARMS => {
                    let (what, span) = ("answers of one reading", word.span);
                    laying.found.add(&TooMany { what, most: MOST_ARMS, span });
                    return written;
                }
                None => written.push((word.text.clone(), word.span)),
            }
        }
    }
    written
}

fn answers(written: &[(String, Span)]) -> Vec<String> {
    let plain = written.iter().all(|(answer, _)| YES_OR_NO.contains(&answer.as_str()));
    if plain {
        return YES_OR_NO.map(str::to_owned).to_vec();
    }
    written.iter().map(|(answer, _)| answer.clone()).collect()
}

/// Answers for which no arm says what follows; an only answer decides nothing.
fn gaps(
    laying: &mut Laying<'_>,
    name: &Name,
    written: &[(String, Span)],
    answers: &[String],
    body: Span,
) {
    let missing =
        answers.iter().filter(|answer| !written.iter().any(|(known, _)| known == *answer));
    let mut gaps: Vec<String> = missing.cloned().collect();
    if let ([only], true) = (answers, gaps.is_empty()) {
        gaps.push(format!("not {only}"));
    }
    if !gaps.is_empty() && !written.is_empty() {
        let (name, bounded_by) = (name.text.clone(), String::new());
        laying.found.add(&ArmsGap { name, gaps, body, bounded_by, answers: true, over: None });
    }
}

/// The arms of the graph. Where some condition asks for the answer later, each answer has a way of
/// its own that writes it down.
fn arms_of<'w>(
    arms: &'w [Arm],
    answers: &[String],
    variable: Option<VariableId>,
) -> (Verdict, Follows<'w>) {
    if variable.is_none() && arms.is_empty() {
        return (Verdict::None, Follows::Next);
    }
    let mut all = Vec::new();
    let mut out = Vec::new();
    for Written { words, span, outcome } in written_or_plain(arms, answers) {
        let mut ways = Vec::new();
        for answers in apart(&positions(&words, answers), variable) {
            let way = u16::try_from(all.len()).unwrap_or(u16::MAX);
            let sets = variable.zip(answers.first().copied());
            let sets = sets.map(|(variable, value)| Effect::Set { variable, value });
            ways.push((way, sets));
            all.push(ActArm {
                range: None,
                whole: None,
                answers,
                written: words.join(" or "),
                span,
            });
        }
        out.push(ArmOut { ways, outcome });
    }
    (Verdict::Arms(all), Follows::Arms(out))
}

/// An arm as it is written, or one that goes on where none are.
struct Written<'w> {
    words: Vec<String>,
    span: Span,
    outcome: Option<&'w Outcome>,
}

fn written_or_plain<'w>(arms: &'w [Arm], answers: &[String]) -> Vec<Written<'w>> {
    if arms.is_empty() {
        let plain = |answer: &String| Written {
            words: vec![answer.clone()],
            span: Span::default(),
            outcome: None,
        };
        return answers.iter().map(plain).collect();
    }
    let written = |arm: &'w Arm| {
        let words = match &arm.guard {
            Guard::Words(words) => words.iter().map(|word| word.text.clone()).collect(),
            Guard::Limit(_) => Vec::new(),
        };
        Written { words, span: arm_span(arm), outcome: Some(&arm.outcome) }
    };
    arms.iter().map(written).collect()
}

fn positions(words: &[String], answers: &[String]) -> Vec<u8> {
    let position = |word: &String| answers.iter().position(|answer| answer == word);
    words.iter().filter_map(position).filter_map(|at| u8::try_from(at).ok()).collect()
}

/// Each answer by itself where a variable keeps it, else all of the arm's together.
fn apart(values: &[u8], variable: Option<VariableId>) -> Vec<Vec<u8>> {
    match variable {
        Some(_) => values.iter().map(|value| vec![*value]).collect(),
        None => vec![values.to_vec()],
    }
}
