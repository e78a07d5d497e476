//! `choose NAME by READING [from SET] { at most 0.60 mm -> 0.20 mm … }`: the author gives the table.

use super::super::coverage::{Known, Possible, Rows};
use super::super::laying::Laying;
use super::choose::{declare, otherwise, placeholder, stock};
use super::draft::{Draft, Follows};
use super::limits::{self, Subject};
use super::members::{Members, Sizes, members};
use super::shape::{clause, one_name};
use super::usual;
use super::verdict::{MOST_ARMS, arm_limit, guard_span};
use super::{asked, cancels};
use crate::findings::flow::ClauseDoesNotFit;
use crate::findings::names::TooMany;
use crate::findings::readings::{NotAmongSizes, RowAgainstOthers};
use locknut_finding::Span;
use locknut_graph::{
    ActArm, ActKind, Choice, Expression, LineValue, Member, Prefer, ReadingId, Words,
};
use locknut_quantity::{Exact, KindId, Limit, Quantity, Range, UnitId};
use locknut_syntax::tree::{self, Act, Name, Row};

const FORM: &str = "choose NAME by READING { at most 0.60 mm -> 0.20 mm, a row a line }";

/// What says of a choice which size fits; in a table its rows say it.
const SAID_BY_ROWS: &[&str] = &["each", "so", "where", "prefer"];

/// The reading that the rows go by.
struct By {
    value: Expression,
    kind: KindId,
    unit: UnitId,
}

pub(super) fn choose<'w>(
    laying: &mut Laying<'w>,
    act: &'w Act,
    written_by: &'w tree::Expression,
    rows: &'w [Row],
    span: Span,
) -> Option<Draft<'w>> {
    let name = one_name(laying, act, FORM)?;
    said_twice(laying, act);
    let by = laying.expression(written_by, None);
    if let Some(first) = rows.get(MOST_ARMS) {
        laying.found.add(&TooMany { what: "rows of one table", most: MOST_ARMS, span: first.span });
    }
    let rows = rows.get(..MOST_ARMS).unwrap_or(rows);
    let stocked = match clause(act, "from") {
        Some(from) => Some((members(laying, from)?, from.span)),
        None => None,
    };
    let (sizes, parts) = parts(laying, rows, stocked.as_ref());
    let set = set(&sizes, &parts);
    let Some((value, kind, unit)) = by.filter(|_| parts.len() == rows.len()) else {
        placeholder(laying, name, &set);
        return None;
    };
    let reading = declare(laying, name, &set)?;
    cancels::tell(laying, &name.text, written_by.span(), &value);
    let by = By { value, kind, unit };
    let arms = arms(laying, rows, by.kind);
    odd_rows(laying, name, rows, &arms, &parts);
    let otherwise = otherwise(act);
    let usually = usual::of_value(laying, act, &by.value, (by.kind, by.unit), reading);
    let narrowed = usually.must.is_some() && otherwise.is_some();
    let must = if otherwise.is_some() { usually.must } else { Some(laying.possible(&by.value)) };
    let so_far = laying.found.reports().len();
    covers(laying, written_by, &arms, &by, (must.as_ref(), narrowed), span);
    // An edge that two rows share is one edge.
    laying.found.once_alike(so_far);
    let placed = rows_of(&arms, &parts, &set);
    by_row(laying, reading, &by.value, &placed, &set);
    let choice = Choice {
        reading,
        sizes,
        stock: stocked.as_ref().and_then(|(members, _)| Some(members.consumable?.words.clone())),
        set,
        stacked: None,
        target: Words::of(&name.text),
        value: by.value,
        range: anything(by.kind, by.unit),
        prefer: Prefer::Smallest,
        otherwise: otherwise.is_some(),
        usually: usually.limit,
        rows: placed,
        key: None,
        span: act.span,
    };
    let mut draft = Draft::of(ActKind::Choose(choice), "act-choose", act.span);
    draft.say("reading", LineValue::Reading(reading));
    if let Some((members, _)) = &stocked {
        stock(laying, members, &mut draft.line);
    }
    draft.follows = Follows::Choice { reading, otherwise };
    Some(draft)
}

/// Says so where a size looks as if a digit had slipped, in the order of what they are chosen by.
fn odd_rows(
    laying: &mut Laying<'_>,
    name: &Name,
    rows: &[Row],
    arms: &[ActArm],
    parts: &[Quantity],
) {
    let begins = |arm: &ActArm| Some(arm.range.as_ref()?.range.lower.as_ref()?.value.clone());
    let mut all: Vec<_> = rows.iter().zip(arms).zip(parts).collect();
    all.sort_by_key(|((_, arm), _)| begins(arm));
    let units = &laying.world.units;
    let sizes: Vec<Exact> =
        all.iter().map(|(_, part)| units.unit(part.unit).number_of(&part.value)).collect();
    let Some(odd) = locknut_graph::odd(&sizes) else { return };
    let at = |row: &usize| all.get(*row).map(|((row, _), part)| (row.span, part.written.clone()));
    let rows: Vec<(Span, String)> = odd.rows().iter().filter_map(at).collect();
    let table = name.text.clone();
    laying.found.add(&RowAgainstOthers { table, odd, rows, place: None });
}

fn said_twice(laying: &mut Laying<'_>, act: &Act) {
    for word in SAID_BY_ROWS {
        let Some(clause) = clause(act, word) else { continue };
        laying.found.add(&ClauseDoesNotFit {
            act: "choose … by".to_owned(),
            word: (*word).to_owned(),
            span: clause.word.span,
            first: None,
            form: FORM.to_owned(),
            taken: ["from", "usually", "otherwise"].map(str::to_owned).to_vec(),
        });
    }
}

/// The sizes that there are, ascending, and the size of each row that names one.
fn parts(
    laying: &mut Laying<'_>,
    rows: &[Row],
    stocked: Option<&(Members<'_>, Span)>,
) -> (Sizes, Vec<Quantity>) {
    let mut kind =
        stocked.and_then(|(members, _)| members.sizes.first().map(|(size, _)| size.kind));
    let mut parts = Vec::new();
    for row in rows {
        let Some(part) = laying.quantity(&row.part, kind) else { continue };
        kind = Some(part.kind);
        if let Some((members, declared)) = stocked {
            among(laying, &part, row.part.span, members, *declared);
        }
        parts.push(part);
    }
    let mut sizes = match stocked {
        Some((members, _)) => members.sizes.clone(),
        None => parts.iter().map(|part| (part.clone(), None)).collect(),
    };
    sizes.sort_by(|(a, _), (b, _)| a.value.cmp(&b.value));
    sizes.dedup_by(|(a, _), (b, _)| a.value == b.value);
    (sizes, parts)
}

/// Says so where a part is none of the sizes that there are.
fn among(
    laying: &mut Laying<'_>,
    part: &Quantity,
    span: Span,
    members: &Members<'_>,
    declared: Span,
) {
    if members.sizes.iter().any(|(size, _)| size.value == part.value) {
        return;
    }
    let below = members.sizes.iter().rev().find(|(size, _)| size.value < part.value);
    let above = members.sizes.iter().find(|(size, _)| size.value > part.value);
    let near: Vec<&str> =
        below.into_iter().chain(above).map(|(size, _)| size.written.as_str()).collect();
    let from = members.consumable.map_or("this list", |consumable| consumable.words.said.as_str());
    let (written, near, from) = (part.written.clone(), near.join(" or "), from.to_owned());
    laying.found.add(&NotAmongSizes { written, span, from, declared, near });
}

/// Only what some row names can be chosen.
fn set(sizes: &[(Quantity, Option<String>)], parts: &[Quantity]) -> Vec<Member> {
    let named = |size: &Quantity| parts.iter().any(|part| part.value == size.value);
    let all = sizes.iter().enumerate().filter(|(_, (size, _))| named(size));
    all.map(|(at, (size, _))| Member { size: size.clone(), pieces: vec![at] }).collect()
}

fn arms(laying: &mut Laying<'_>, rows: &[Row], kind: KindId) -> Vec<ActArm> {
    let mut arms = Vec::new();
    for row in rows {
        let span = guard_span(&row.guard, row.span);
        let written = laying.written(span);
        let range = arm_limit(laying, &row.guard, Some(kind));
        arms.push(ActArm { range, whole: None, answers: Vec::new(), written, span });
    }
    arms
}

/// The rows cover what must be covered, and do not overlap.
fn covers(
    laying: &mut Laying<'_>,
    written: &tree::Expression,
    arms: &[ActArm],
    by: &By,
    (must, usual): (Option<&Possible>, bool),
    span: Span,
) {
    let name = Name { text: laying.written(written.span()), span: written.span() };
    let possible = laying.possible(&by.value);
    let bounded_by = if usual {
        "all of what is said to be “usually” so must be covered"
    } else {
        "it can come to no more and no less"
    };
    let subject = Subject {
        name: &name,
        value: None,
        instrument: None,
        possible: Some(&possible),
        bounded_by: bounded_by.to_owned(),
        points: &[],
        unit: by.unit,
    };
    limits::check_rows(laying, arms, span, &subject, must);
    for (limit, at) in arms.iter().filter_map(|arm| Some((arm.range.as_ref()?, arm.span))) {
        asked::between_digits(laying, &by.value, limit, at);
    }
}

/// Each row with the position of its part in the set.
fn rows_of(arms: &[ActArm], parts: &[Quantity], set: &[Member]) -> Vec<(Limit, usize)> {
    let place = |part: &Quantity| set.iter().position(|member| member.size.value == part.value);
    let rows = arms.iter().zip(parts);
    rows.filter_map(|(arm, part)| Some((arm.range.clone()?, place(part)?))).collect()
}

/// Lines below know which part belongs to which readings.
fn by_row(
    laying: &mut Laying<'_>,
    chosen: ReadingId,
    by: &Expression,
    rows: &[(Limit, usize)],
    set: &[Member],
) {
    let Expression::Reading(reading) = by else { return };
    let single = |known: &Known| known.points == 1 && known.sum.is_none();
    if !laying.knowns.get(*reading).is_some_and(single) {
        return;
    }
    let row = |(limit, at): &(Limit, usize)| {
        Some((limit.range.clone(), set.get(*at)?.size.value.clone()))
    };
    let rows = Rows { by: *reading, rows: rows.iter().filter_map(row).collect() };
    if let Some(known) = laying.knowns.get_mut(chosen) {
        known.rows = Some(rows);
    }
}

fn anything(kind: KindId, unit: UnitId) -> Limit {
    Limit { range: Range::default(), kind, unit, decimals: 0, written: String::new() }
}
