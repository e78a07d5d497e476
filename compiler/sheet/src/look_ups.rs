//! Limits that are worked out from earlier readings in words, and the tables that a line looks something up in.

use crate::guarded;
use crate::rules::said;
use crate::sheet::Table as Shown;
use crate::words::{Speaker, says_all};
use locknut_graph::{
    Act, Between, ComputedLimit, Expression, ReadingKind, SourcedLimit, Table, Verdict, Words,
};
use locknut_proof::LimitRow;
use locknut_quantity::{Bound, Exact, Limit, Quantity, Range, UnitId, Units};
use std::borrow::Cow;

/// `at most stay tension (air)`
pub(crate) fn limit_words(speak: Speaker<'_>, ends: &ComputedLimit) -> String {
    if let Some(table) = of_table(speak, ends) {
        return table;
    }
    let end = |end: &Option<(Expression, bool)>| {
        end.as_ref().map(|(of, closed)| (said(speak, of), *closed))
    };
    match (end(&ends.lower), end(&ends.upper)) {
        (Some((lower, closed)), Some((upper, _))) => {
            let key = if closed { "limit-between" } else { "limit-over-to" };
            speak.say(key, &[("lower", lower), ("upper", upper)])
        }
        (None, Some((value, true))) => speak.say("limit-at-most", &[("value", value)]),
        (None, Some((value, false))) => speak.say("limit-under", &[("value", value)]),
        (Some((value, true)), None) => speak.say("limit-at-least", &[("value", value)]),
        (Some((value, false)), None) => speak.say("limit-over", &[("value", value)]),
        (None, None) => speak.phrases.label("limit-any"),
    }
}

/// `over stay tension (air)`, `outside stay tension (air)`
pub(crate) fn outside_words(speak: Speaker<'_>, ends: &ComputedLimit) -> String {
    if let Some(table) = of_table(speak, ends) {
        return speak.say("limit-outside", &[("limit", table)]);
    }
    let end = |end: &Option<(Expression, bool)>, inside: &str, open: &str| {
        let (of, closed) = end.as_ref()?;
        let key = if *closed { inside } else { open };
        Some(speak.say(key, &[("value", said(speak, of))]))
    };
    let under = end(&ends.lower, "limit-under", "limit-at-most");
    let over = end(&ends.upper, "limit-over", "limit-at-least");
    speak.any_of(&under.into_iter().chain(over).collect::<Vec<_>>())
}

/// Both ends from the same place: `stay tension (air)`.
fn of_table(speak: Speaker<'_>, ends: &ComputedLimit) -> Option<String> {
    let ((lower, _), (upper, _)) = (ends.lower.as_ref()?, ends.upper.as_ref()?);
    let same = match (lower, upper) {
        (Expression::LookUp(one, _, at), Expression::LookUp(other, _, at_other)) => {
            one == other && at == at_other
        }
        (one, other) => one == other,
    };
    same.then(|| said(speak, upper))
}

/// What stands below a line: what is accepted at each reading, or the tables themselves.
pub(crate) fn tables(speak: Speaker<'_>, rows: Option<&[LimitRow]>, act: &Act) -> Vec<Shown> {
    if let (Some(rows), Some(Verdict::Accept { limit, computed: Some(ends) })) =
        (rows, act.kind.verdict())
    {
        return vec![limits(speak, rows, act, limit, ends)];
    }
    let tables = act.tables().into_iter();
    tables.map(|table| whole(speak, act, &in_unit_of_box(speak, act, table))).collect()
}

fn limits(
    speak: Speaker<'_>,
    rows: &[LimitRow],
    act: &Act,
    limit: &SourcedLimit,
    ends: &ComputedLimit,
) -> Shown {
    let of_reading = act.kind.reading().map(|id| &speak.graph.reading(id).kind);
    let (shown, read_in) = match of_reading {
        Some(ReadingKind::Quantity { decimals, unit, .. }) => (*decimals, Some(*unit)),
        Some(
            ReadingKind::Answer { .. }
            | ReadingKind::Serial
            | ReadingKind::Date
            | ReadingKind::Text,
        )
        | None => (0, None),
    };
    let tables = act.tables();
    let written = tables.iter().flat_map(|table| &table.rows).map(|(_, value)| value.decimals);
    let decimals = written.max().unwrap_or(0).max(shown);
    let digits = guarded::digits_of(speak, act);
    let accepted = |row: &LimitRow| {
        let range = limit.guard.as_ref().map(|guard| guard.accepted(&row.range));
        let range = range.unwrap_or_else(|| row.range.clone());
        // A figure between two digits of a gauge would be read as one that it shows.
        let range = digits.as_ref().map(|digits| digits.draw_in(&range)).unwrap_or(range);
        if range.is_empty() {
            return speak.phrases.label("choose-none");
        }
        let written = Limit { range, decimals, ..limit.limit.clone() };
        speak.limit(&read_in.map_or(written.clone(), |unit| speak.beside(&written, unit)))
    };
    // Readings with one and the same limit stand in one row.
    let mut told: Vec<(Quantity, Quantity, String)> = Vec::new();
    for row in rows {
        let limit = accepted(row);
        match told.last_mut() {
            Some((_, to, same)) if *same == limit => *to = row.at.clone(),
            _ => told.push((row.at.clone(), row.at.clone(), limit)),
        }
    }
    let argument = ends.lower.iter().chain(&ends.upper).find_map(|(end, _)| looked_up_with(end));
    let head = argument.map(|of| Speaker::sentence(&said(speak, of)));
    Shown {
        columns: vec![head.unwrap_or_default(), speak.phrases.label("table-accept")],
        rows: told
            .into_iter()
            .map(|(from, to, limit)| vec![stretch(speak, from, to), limit])
            .collect(),
        caption: sources(speak, tables.iter().map(|table| &***table)),
    }
}

/// `10 to 14 °C`
fn stretch(speak: Speaker<'_>, from: Quantity, to: Quantity) -> String {
    if from.value == to.value {
        return speak.quantity(&from);
    }
    let decimals = from.decimals.max(to.decimals);
    speak.limit(&Limit {
        range: Range::closed(from.value, to.value),
        kind: from.kind,
        unit: from.unit,
        decimals,
        written: String::new(),
    })
}

fn looked_up_with(end: &Expression) -> Option<&Expression> {
    match end {
        Expression::LookUp(_, _, of) => Some(of),
        Expression::Negative(inner) => looked_up_with(inner),
        Expression::Binary(_, one, other) => looked_up_with(one).or_else(|| looked_up_with(other)),
        Expression::Fold(_, parts) => parts.iter().find_map(looked_up_with),
        Expression::Value(_) | Expression::Reading(_) | Expression::Point(..) => None,
    }
}

/// A table whose figures are the very limit of what is read, in the unit in which that is read.
fn in_unit_of_box<'t>(speak: Speaker<'_>, act: &Act, table: &'t Table) -> Cow<'t, Table> {
    let Some(Verdict::Accept { computed: Some(ends), .. }) = act.kind.verdict() else {
        return Cow::Borrowed(table);
    };
    let kind = act.kind.reading().map(|id| &speak.graph.reading(id).kind);
    let Some(ReadingKind::Quantity { unit, .. }) = kind else { return Cow::Borrowed(table) };
    let mut ends = ends.lower.iter().chain(&ends.upper);
    if !ends.all(|(end, _)| matches!(end, Expression::LookUp(own, ..) if **own == *table)) {
        return Cow::Borrowed(table);
    }
    let rows = table.rows.iter().map(|(key, value)| (key.clone(), speak.beside(value, *unit)));
    Cow::Owned(Table { rows: rows.collect(), ..table.clone() })
}

/// The table as it is declared, and how to work with it.
fn whole(speak: Speaker<'_>, act: &Act, table: &Table) -> Shown {
    let argument = act.kind.worked_out().into_iter().find_map(|of| looked_up_in(of, &table.words));
    let head = argument.map(|of| Speaker::sentence(&said(speak, of)));
    let read_in = argument.and_then(|of| unit_read(speak, of));
    let row = |(key, value): &(Quantity, Limit)| {
        vec![speak.quantity(&as_read(speak, key, read_in)), speak.limit(value)]
    };
    let rows = table.rows.iter().map(row);
    let mut caption = vec![rule(speak, table)];
    caption.extend(sources(speak, [table]));
    Shown {
        columns: vec![
            head.unwrap_or_default(),
            Speaker::sentence(&speak.phrases.name(&table.words)),
        ],
        rows: rows.collect(),
        caption: Some(caption.join(" ")),
    }
}

/// The unit in which the box stands whose figure is looked up.
fn unit_read(speak: Speaker<'_>, argument: &Expression) -> Option<UnitId> {
    let (Expression::Reading(id) | Expression::Point(id, _)) = argument else { return None };
    let ReadingKind::Quantity { unit, .. } = &speak.graph.reading(*id).kind else { return None };
    Some(speak.reader_unit(*unit))
}

/// A key in the unit that is read, where it comes out even there; else as it was written, with its unit.
fn as_read(speak: Speaker<'_>, key: &Quantity, read_in: Option<UnitId>) -> Quantity {
    const MORE_DIGITS: u32 = 3;
    let Some(unit) = read_in.filter(|unit| *unit != key.unit) else { return key.clone() };
    let even = |decimals: &u32| says_all(speak.units, unit, &key.value, *decimals);
    let decimals = (0..=key.decimals.saturating_add(MORE_DIGITS)).find(even);
    decimals.map_or_else(|| key.clone(), |decimals| Quantity { unit, decimals, ..key.clone() })
}

fn looked_up_in<'e>(of: &'e Expression, table: &Words) -> Option<&'e Expression> {
    match of {
        Expression::LookUp(own, _, of) if own.words == *table => Some(of),
        Expression::LookUp(_, _, inner) | Expression::Negative(inner) => looked_up_in(inner, table),
        Expression::Binary(_, one, other) => {
            looked_up_in(one, table).or_else(|| looked_up_in(other, table))
        }
        Expression::Fold(_, parts) => parts.iter().find_map(|part| looked_up_in(part, table)),
        Expression::Value(_) | Expression::Reading(_) | Expression::Point(..) => None,
    }
}

/// What holds between two rows; in proportion with a worked line.
fn rule(speak: Speaker<'_>, table: &Table) -> String {
    match table.between {
        Between::Nothing => speak.phrases.label("table-nothing"),
        Between::NextLower => speak.phrases.label("table-next-lower"),
        Between::Proportion => match half_way(speak.units, table) {
            Some((key, value)) => speak.say(
                "table-proportion",
                &[("key", speak.quantity(&key)), ("value", speak.limit(&value))],
            ),
            None => String::new(),
        },
    }
}

/// Half way between the first two rows: exact, with one digit more where that is needed.
fn half_way(units: &Units, table: &Table) -> Option<(Quantity, Limit)> {
    let [(one, first), (other, second), ..] = table.rows.as_slice() else { return None };
    let half = |a: &Exact, b: &Exact| (a + b) / Exact::from_integer(2.into());
    let end = |a: &Option<Bound>, b: &Option<Bound>| {
        let (a, b) = (a.as_ref()?, b.as_ref()?);
        Some(Bound { value: half(&a.value, &b.value), closed: a.closed })
    };
    let written = one.decimals.max(other.decimals);
    let value = half(&one.value, &other.value);
    let decimals = digits_for(units, one.unit, [&value], written);
    let key = Quantity { value, decimals, ..one.clone() };
    let range = Range {
        lower: end(&first.range.lower, &second.range.lower),
        upper: end(&first.range.upper, &second.range.upper),
    };
    let ends = [&range.lower, &range.upper].into_iter().flatten().map(|end| &end.value);
    let written = first.decimals.max(second.decimals);
    let decimals = digits_for(units, first.unit, ends, written);
    Some((key, Limit { range, decimals, ..first.clone() }))
}

/// As many digits as its rows have; one more where half of them needs it.
fn digits_for<'v>(
    units: &Units,
    unit: UnitId,
    values: impl IntoIterator<Item = &'v Exact>,
    written: u32,
) -> u32 {
    let even = |value: &Exact| says_all(units, unit, value, written);
    if values.into_iter().all(even) { written } else { written + 1 }
}

fn sources<'t>(speak: Speaker<'_>, tables: impl IntoIterator<Item = &'t Table>) -> Option<String> {
    let per = tables.into_iter().filter_map(|table| table.per.as_ref());
    let per: Vec<String> = per.map(|per| speak.prose(per)).collect();
    (!per.is_empty()).then(|| speak.say("table-source", &[("source", per.join("; "))]))
}
