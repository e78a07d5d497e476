//! The title block: title, revision, what it replaces, which machines it is for, who does it.

use super::hand_over::parts;
use super::laying::Laying;
use super::variant::Stretch;
use crate::findings::flow::{BadHeader, NoMachineLeft, PlainWanted};
use crate::findings::names::{BracesInComment, SaysTooLittle};
use locknut_finding::Span;
use locknut_graph::{Applies, By, Condition, Heading, Step, Test, VariableId, VariableKind, Words};
use locknut_syntax::tree::{Header, Item, Name, Procedure, Text};
use std::collections::{BTreeMap, BTreeSet};

/// The title block of a procedure.
pub(super) fn heading(laying: &mut Laying<'_>, procedure: &Procedure, publisher: &str) -> Heading {
    said_twice(laying, procedure);
    let subtask = procedure.keyword.text == "subtask";
    if !subtask {
        let Name { text, span } = &procedure.name;
        BracesInComment::told(procedure.doc.as_ref(), text, *span, &mut laying.found);
    }
    // A title that was read as an act is told there.
    let as_an_act = |item: &Item| matches!(item, Item::Act(act) if act.verb.text == "title");
    let tried = procedure.broken || procedure.items.iter().any(as_an_act);
    if title(procedure).is_none() && !subtask && !tried {
        laying.found.add(&no_title(procedure));
    }
    let title = laying.title_or_name(title(procedure), &procedure.name.text);
    Heading {
        name: procedure.name.text.clone(),
        title,
        purpose: procedure.doc.clone(),
        model: laying.model.title.clone(),
        model_name: laying.model.name.clone(),
        subtask,
        revision: revision(laying, procedure),
        replaces: replaces(laying, procedure),
        applies: Vec::new(),
        crew: crew(procedure).iter().map(|role| Words::of(&role.text)).collect(),
        publisher: publisher.to_owned(),
        metrology: laying.world.metrology.clone(),
    }
}

/// The title as written.
pub(super) fn title(procedure: &Procedure) -> Option<&Text> {
    procedure
        .headers
        .iter()
        .find_map(|header| if let Header::Title { text, .. } = header { Some(text) } else { None })
}

/// Readings of its caller that a subtask uses.
pub(super) fn uses(procedure: &Procedure) -> Vec<&Name> {
    let uses = procedure.headers.iter().filter_map(|header| {
        if let Header::Uses { readings, .. } = header { Some(readings) } else { None }
    });
    uses.flatten().collect()
}

/// The crew as written.
fn crew(procedure: &Procedure) -> Vec<Name> {
    let crews = procedure.headers.iter().filter_map(|header| {
        if let Header::Crew { roles, .. } = header { Some(roles.clone()) } else { None }
    });
    crews.flatten().collect()
}

/// Everybody whom some step names: the crew of a subtask that leaves its crew to its callers.
pub(super) fn roles_of(steps: &[Step]) -> Vec<Words> {
    let mut roles: Vec<Words> = Vec::new();
    for step in steps {
        if let By::Roles(named) = &step.by {
            roles.extend(
                named.iter().filter(|role| !roles.contains(role)).cloned().collect::<Vec<_>>(),
            );
        }
    }
    roles
}

fn revision(laying: &mut Laying<'_>, procedure: &Procedure) -> Option<(String, Option<String>)> {
    let (letter, date) = procedure.headers.iter().find_map(|header| {
        if let Header::Revision { letter, date, .. } = header { Some((letter, date)) } else { None }
    })?;
    if let Some(date) = date.as_ref().filter(|date| !is_a_date(&date.text)) {
        laying.found.add(&BadHeader::NoSuchDate { date: date.text.clone(), span: date.span });
    }
    Some((letter.text.clone(), date.as_ref().map(|date| date.text.clone())))
}

/// `2026-10-02`: a day that the calendar has.
pub(super) fn is_a_date(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let [year, month, day] = parts.as_slice() else { return false };
    let digits = |part: &str, count: usize| {
        part.len() == count && part.bytes().all(|byte| byte.is_ascii_digit())
    };
    if !(digits(year, 4) && digits(month, 2) && digits(day, 2)) {
        return false;
    }
    let number = |part: &str| part.parse::<u32>().unwrap_or(0);
    let (year, month, day) = (number(year), number(month), number(day));
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let days = match month {
        2 => 28 + u32::from(leap),
        4 | 6 | 9 | 11 => 30,
        1..=12 => 31,
        _ => 0,
    };
    (1..=days).contains(&day)
}

fn replaces(
    laying: &mut Laying<'_>,
    procedure: &Procedure,
) -> Option<(String, locknut_graph::Prose)> {
    let (letter, because, span) = procedure.headers.iter().find_map(|header| {
        let Header::Replaces { letter, because, span } = header else { return None };
        Some((letter, because, *span))
    })?;
    if because.is_none() {
        laying.found.add(&no_reason_to_replace(span));
    }
    let because = because.as_ref().map(|because| laying.prose(because)).unwrap_or_default();
    Some((letter.text.clone(), because))
}

/// Which machines it is for: the values that the variables of the variant may start with.
pub(super) fn applicability(
    laying: &mut Laying<'_>,
    procedure: &Procedure,
) -> BTreeMap<VariableId, Vec<u8>> {
    let mut allowed: BTreeMap<VariableId, BTreeSet<u8>> = BTreeMap::new();
    let mut lines = Vec::new();
    for header in &procedure.headers {
        let Header::For { condition, span } = header else { continue };
        lines.push(*span);
        let Some(condition) = laying.condition(condition) else { continue };
        for part in parts(condition) {
            let Some((variable, values)) = of_the_variant(laying, &part) else {
                laying.found.add(&PlainWanted::variant(*span));
                continue;
            };
            let all = values.iter().copied().collect();
            let kept = allowed.entry(variable).or_insert(all);
            kept.retain(|value| values.contains(value));
        }
    }
    if allowed.values().any(BTreeSet::is_empty) {
        laying.found.add(&NoMachineLeft { lines });
    }
    allowed.into_iter().map(|(variable, values)| (variable, values.into_iter().collect())).collect()
}

/// The variable of the variant that a condition speaks of, and the values for which it holds.
fn of_the_variant(laying: &Laying<'_>, condition: &Condition) -> Option<(VariableId, Vec<u8>)> {
    let variables = condition.variables();
    let mut all = variables.iter();
    let (variable, None) = (*all.next()?, all.next()) else { return None };
    let declared = laying.build.variables.get(usize::from(variable.0))?;
    let variant = matches!(declared.kind, VariableKind::Series | VariableKind::Serial { .. });
    let plain = condition.tests().iter().all(|test| matches!(test, Test::Is { .. }));
    if !variant || !plain {
        return None;
    }
    let values = (0..=u8::MAX).take(declared.values.len());
    Some((variable, values.filter(|value| holds(condition, *value)).collect()))
}

/// Whether a condition on one variable holds where it has this value.
fn holds(condition: &Condition, value: u8) -> bool {
    match condition {
        Condition::Always(so) => *so,
        Condition::Test(Test::Is { values, .. }) => values.contains(&value),
        Condition::Test(_) => false,
        Condition::Not(inner) => !holds(inner, value),
        Condition::All(parts) => parts.iter().all(|part| holds(part, value)),
        Condition::Any(parts) => parts.iter().any(|part| holds(part, value)),
    }
}

/// The same in the words of the title block.
pub(super) fn applies(
    laying: &Laying<'_>,
    allowed: &BTreeMap<VariableId, Vec<u8>>,
) -> Vec<Applies> {
    let mut all = Vec::new();
    for (variable, values) in allowed {
        if let Some(names) = laying.variant.series_names(*variable, values) {
            all.push(Applies::Series(names));
            continue;
        }
        let declared = laying.build.variables.get(usize::from(variable.0));
        if let Some(VariableKind::Serial { stretches }) = declared.map(|declared| &declared.kind) {
            let allowed = values.iter().filter_map(|value| stretches.get(usize::from(*value)));
            all.extend(merged(allowed.copied()).map(|(from, to)| Applies::Serial(from, to)));
        }
    }
    all
}

/// Neighbouring stretches as one; they come in ascending order.
fn merged(stretches: impl Iterator<Item = Stretch>) -> impl Iterator<Item = Stretch> {
    let mut all: Vec<Stretch> = Vec::new();
    for (from, to) in stretches {
        match all.last_mut() {
            Some(last) if last.1.and_then(|end| end.checked_add(1)) == from && from.is_some() => {
                last.1 = to;
            }
            _ => all.push((from, to)),
        }
    }
    all.into_iter()
}

/// A line of the title block that may stand once and stands twice.
fn said_twice(laying: &mut Laying<'_>, procedure: &Procedure) {
    let mut first: BTreeMap<&'static str, Span> = BTreeMap::new();
    for header in &procedure.headers {
        let (word, span) = match header {
            Header::Title { span, .. } => ("title", *span),
            Header::Revision { span, .. } => ("revision", *span),
            Header::Replaces { span, .. } => ("replaces", *span),
            Header::Crew { span, .. } => ("crew", *span),
            Header::For { .. }
            | Header::Starts { .. }
            | Header::Uses { .. }
            | Header::StartsUnknown { .. }
            | Header::Leaves { .. } => continue,
        };
        if let Some(first) = first.get(word) {
            laying.found.add(&BadHeader::Twice { word, first: *first, again: span });
        } else {
            first.insert(word, span);
        }
    }
}

fn no_title(procedure: &Procedure) -> SaysTooLittle<'static> {
    SaysTooLittle {
        what: format!("the procedure {}", procedure.name.text),
        lacks: "no title",
        span: procedure.name.span,
        consequence: "the first page has no heading by which a workshop could find it",
        mend: "title \"…\"",
    }
}

fn no_reason_to_replace(span: Span) -> SaysTooLittle<'static> {
    SaysTooLittle {
        what: "this `replaces`".to_owned(),
        lacks: "no reason",
        span,
        consequence: "a workshop that has the old sheet cannot tell why it must not use it any more",
        mend: "add: because \"…\"",
    }
}

#[cfg(test)]
mod tests {
    use super::{is_a_date, merged};

    #[test]
    fn a_date_is_a_day_that_the_calendar_has() {
        // Gregorian leap rule: every fourth year, but of the hundreds only every fourth.
        assert!(is_a_date("2026-10-02") && is_a_date("2024-02-29") && is_a_date("2000-02-29"));
        assert!(!is_a_date("2026-02-29") && !is_a_date("1900-02-29") && !is_a_date("2026-13-01"));
        assert!(!is_a_date("02.10.2026") && !is_a_date("2026-10-2") && !is_a_date("2026-00-10"));
    }

    #[test]
    fn neighbouring_stretches_are_said_as_one() {
        let stretches = [(Some(1), Some(4)), (Some(5), Some(9)), (Some(20), None)];
        let all: Vec<_> = merged(stretches.into_iter()).collect();
        assert_eq!(all, [(Some(1), Some(9)), (Some(20), None)]);
    }
}
