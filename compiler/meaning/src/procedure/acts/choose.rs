//! `choose [up to n of] NAME from SET so that RESULT is RANGE, where RESULT = …, prefer …`

use super::super::coverage::{Possible, Uncertain};
use super::super::laying::Laying;
use super::draft::{Draft, Follows};
use super::fits::{Written, judge};
use super::limits::beyond_all;
use super::members::{Members, members};
use super::readings::{self, Number};
use super::shape::{Bodies, clause, names};
use super::usual::usually;
use super::{Lay, Verb, cancels, choice_key, choose_table, stacks};
use crate::findings::flow::PlainWanted;
use crate::findings::names::{SaysTooLittle, UnknownName};
use crate::findings::readings::{EndNeverMet, NeverMet};
use locknut_finding::Span;
use locknut_graph::{
    ActKind, Choice, Expression, Line, LineValue, Material, Member, Prefer, ReadingId, Words,
};
use locknut_quantity::{Limit, Quantity, Range, UnitId};
use locknut_syntax::tree::{self, Act, Body, ClauseValue, LimitForm, Name, Object, Outcome};

const FORM: &str =
    "choose NAME from SIZES so that RESULT is RANGE, where RESULT = …, prefer smallest or largest";

pub(super) const VERB: Verb = Verb {
    word: "choose",
    form: FORM,
    clauses: &["from", "each", "so", "where", "prefer", "usually", "otherwise"],
    bodies: Bodies::Choice,
    lay: Lay::Line(choose),
};

/// Of a choice that was refused lines below do not ask where it is made.
fn choose<'w>(laying: &mut Laying<'w>, act: &'w Act) -> Option<Draft<'w>> {
    let draft = choice(laying, act);
    let name = match act.objects.first() {
        Some(Object::Name(name) | Object::UpTo { name, .. }) => Some(name),
        _ => None,
    };
    if let Some(name) = name.filter(|_| draft.is_none()) {
        laying.scope.refused.insert(name.text.clone());
    }
    draft
}

fn choice<'w>(laying: &mut Laying<'w>, act: &'w Act) -> Option<Draft<'w>> {
    if let Body::Table { by, rows, span } = &act.body {
        return choose_table::choose(laying, act, by, rows, *span);
    }
    let name = stacks::chosen(laying, act, FORM)?;
    let Some(from) = clause(act, "from") else {
        laying.found.add(&lacks(act, "not what to choose from", "add: from 0.20, 0.30, 0.50 mm"));
        return None;
    };
    let members = members(laying, from)?;
    let stacked = stacks::stacked(laying, act, name).ok();
    let set = stacked.and_then(|stacked| stacks::set(laying, &members, stacked, name, from.span));
    let Some((set, stacked)) = set.zip(stacked) else {
        placeholder(laying, name, &stacks::single(&members));
        return None;
    };
    let reading = declare(laying, name, &set)?;
    let (result, value, range, unit) = aim(laying, act)?;
    cancels::tell(
        laying,
        &result.text,
        clause(act, "where").map_or(act.span, |it| it.span),
        &value,
    );
    let otherwise = otherwise(act);
    let usually = usually(laying, act, &value, reading);
    let prefer = prefer(laying, act, (result, &range));
    let key = choice_key::key(laying, &value, reading, unit).map(Box::new);
    let choice = Choice {
        reading,
        sizes: members.sizes.clone(),
        stock: members.consumable.map(|consumable| consumable.words.clone()),
        set,
        stacked,
        target: Words::of(&result.text),
        value,
        range,
        prefer: prefer.clone().unwrap_or(Prefer::Smallest),
        otherwise: otherwise.is_some(),
        usually: usually.limit,
        rows: Vec::new(),
        key,
        span: act.span,
    };
    let sizes = members.consumable.map(|consumable| consumable.span);
    let written = Written { name, act, prefers: clause(act, "prefer").is_some(), sizes, unit };
    judge(laying, &choice, &usually.of, &written);
    let mut draft = Draft::of(ActKind::Choose(choice), "act-choose", act.span);
    draft.say("reading", LineValue::Reading(reading));
    stock(laying, &members, &mut draft.line);
    draft.follows = Follows::Choice { reading, otherwise };
    Some(draft)
}

/// Of a choice that cannot be made, which was told: lines below know the name, and nothing of what it comes to.
pub(super) fn placeholder(laying: &mut Laying<'_>, name: &Name, set: &[Member]) {
    let reading = declare(laying, name, set);
    if let Some(known) = reading.and_then(|reading| laying.knowns.get_mut(reading)) {
        known.possible = Possible::default();
    }
}

/// What is chosen is a reading from here on; of a stack, its sum.
pub(super) fn declare(laying: &mut Laying<'_>, name: &Name, set: &[Member]) -> Option<ReadingId> {
    let first = &set.first()?.size;
    let number = Number {
        kind: first.kind,
        unit: first.unit,
        decimals: set.iter().map(|member| member.size.decimals).max().unwrap_or(0),
        points: Vec::new(),
        possible: Possible::one_of(set.iter().map(|member| &member.size.value)),
        usually: None,
        rough: false,
        sum: None,
        doubt: Some(Uncertain::nothing()),
        expected: true,
        named: true,
    };
    let reading = readings::number(laying, name, number);
    laying.fitted.insert(reading, Vec::new());
    Some(reading)
}

/// What the choice aims at: `so that RESULT is RANGE, where RESULT = EXPR`.
fn aim<'w>(laying: &mut Laying<'w>, act: &'w Act) -> Option<(&'w Name, Expression, Limit, UnitId)> {
    let Some(ClauseValue::Definition { name: defined, value }) =
        clause(act, "where").map(|clause| &clause.value)
    else {
        laying.found.add(&lacks(
            act,
            "not how its result is worked out",
            "say how with the name that stands behind “so that”, as in: so that play is 0.1 .. 0.2 mm, where play = gap - shim",
        ));
        return None;
    };
    let Some(ClauseValue::Target { name: result, limit }) =
        clause(act, "so").map(|clause| &clause.value)
    else {
        laying.found.add(&lacks(
            act,
            "not what its result shall be",
            "add: so that RESULT is 0.1 .. 0.2 mm",
        ));
        return None;
    };
    if defined.text != result.text {
        // There is but one that can be meant.
        laying.found.add(&UnknownName {
            wanted: "result of this choice",
            name: defined.text.clone(),
            span: defined.span,
            near: Some(result.text.clone()),
            else_is: None,
        });
        return None;
    }
    let (value, kind, unit) = laying.expression(value, None)?;
    let range = laying.limit(limit, Some(kind))?;
    Some((result, value, range, unit))
}

pub(super) fn otherwise(act: &Act) -> Option<&Outcome> {
    if let Body::Verdict { otherwise: Some(outcome), .. } = &act.body {
        return Some(outcome);
    }
    if let ClauseValue::Outcome(outcome) = &clause(act, "otherwise")?.value {
        Some(outcome)
    } else {
        None
    }
}

/// Says so where no result that fits comes to what is to be nearest.
fn nearest_can_come(
    laying: &mut Laying<'_>,
    nearest: &Quantity,
    span: Span,
    (result, range): (&Name, &Limit),
) {
    let aimed = Possible { range: range.range.clone(), grid: None };
    let only = Range::closed(nearest.value.clone(), nearest.value.clone());
    let (above, below) = beyond_all(&only, &aimed);
    if above.or(below).is_some() {
        laying.found.add(&EndNeverMet {
            name: result.text.clone(),
            figure: nearest.written.clone(),
            span,
            can_be: range.written.clone(),
            of: NeverMet::Nearest,
        });
    }
}

fn prefer(laying: &mut Laying<'_>, act: &Act, aim: (&Name, &Limit)) -> Option<Prefer> {
    let kind = aim.1.kind;
    let clause = clause(act, "prefer")?;
    if let ClauseValue::Limit(limit) = &clause.value
        && let LimitForm::Just(nearest) = &limit.form
        && !matches!(nearest, tree::Expression::Name(name) if is_preference(name))
    {
        let value = laying.read(|reader, found| reader.value(nearest, Some(kind), found));
        if let Some(nearest) = &value {
            nearest_can_come(laying, nearest, limit.span, aim);
        }
        return value.map(Prefer::Nearest);
    }
    match names(act, "prefer").first().map(|name| name.text.as_str()) {
        Some("smallest") => Some(Prefer::Smallest),
        Some("largest") => Some(Prefer::Largest),
        Some("fewest") => Some(Prefer::Fewest),
        _ => {
            laying.found.add(&PlainWanted::preference(clause.span));
            None
        }
    }
}

fn is_preference(name: &Name) -> bool {
    ["smallest", "largest", "fewest"].contains(&name.text.as_str())
}

/// The consumable is listed with its sizes.
pub(super) fn stock(laying: &mut Laying<'_>, members: &Members<'_>, line: &mut Line) {
    let Some(consumable) = members.consumable else { return };
    let words = consumable.words.clone();
    line.values.insert("set".to_owned(), LineValue::Words(words.clone()));
    let maybe = laying.here.only_on_some_ways();
    let material = Material {
        words,
        quantity: None,
        sizes: members.sizes.clone(),
        shelf_life_months: consumable.shelf_life_months,
        new_part: false,
        maybe,
    };
    laying.build.material(material, &laying.world.units);
}

fn lacks(act: &Act, lacks: &'static str, mend: &'static str) -> SaysTooLittle<'static> {
    let span: Span = act.span;
    SaysTooLittle {
        what: "this choice".to_owned(),
        lacks,
        span,
        consequence: "nobody can tell which size is the right one",
        mend,
    }
}
