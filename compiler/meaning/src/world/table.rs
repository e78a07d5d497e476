//! `table stay-tension : temperature -> force { 10 °C -> 500 N, …, between in proportion }`
//!
//! Rows are read once, before any value or limit: a table holds figures alone, so nothing can go in a circle.

use super::World;
use super::limits::{gather, names_in};
use super::read::{NoReadings, Reader, Typed};
use crate::findings::names::UnknownName;
use crate::findings::quantities::{TableFault, TableOrder, TableUnfit};
use crate::world::near::nearest;
use locknut_finding::{Findings, Span};
use locknut_graph::{Between, Table, Words};
use locknut_quantity::{KindId, Limit, Quantity, Range};
use locknut_syntax::tree;
use std::collections::BTreeMap;
use std::sync::Arc;

/// A table has at most so many rows: more are a curve, and no sheet prints them.
const MOST_ROWS: usize = 200;

/// Reads all tables; one that does not fit has a finding, and stays quiet where it is used.
pub(super) fn tables(lines: &[&tree::Table], world: &mut World, found: &mut Findings) {
    let (mut tables, mut rows) = (BTreeMap::new(), BTreeMap::new());
    for line in lines {
        let reader = Reader { world, model: None, readings: &NoReadings };
        match table_of(line, reader, found).filter(|_| !line.broken) {
            Some(table) => {
                let places = line.rows.iter().map(|row| row.span).collect();
                drop(rows.insert(line.name.text.clone(), places));
                drop(tables.insert(line.name.text.clone(), Arc::new(table)));
            }
            None => drop(world.broken.insert(line.name.text.clone())),
        }
    }
    world.tables = tables;
    world.table_rows = rows;
}

fn table_of(line: &tree::Table, reader: Reader<'_>, found: &mut Findings) -> Option<Table> {
    let unfit = |place: Span, fault: TableFault, found: &mut Findings| {
        found.add(&TableUnfit { table: line.name.text.clone(), place, fault });
    };
    let (of, kind) = (kind_of(&line.of, reader, found), kind_of(&line.kind, reader, found));
    let between = match line.between.as_slice() {
        [one] => Some(between_of(&one.text)),
        [] => {
            // Where a line could not be read, it may be the one that says it.
            if !line.broken {
                unfit(line.name.span, TableFault::NoRule, found);
            }
            None
        }
        [_, again, ..] => {
            unfit(again.span, TableFault::TwoRules, found);
            None
        }
    };
    let (of, kind, between) = (of?, kind?, between?);
    if line.rows.len() > MOST_ROWS {
        let (what, span) = ("rows in one table", line.name.span);
        found.add(&crate::findings::names::TooMany { what, most: MOST_ROWS, span });
        return None;
    }
    let wanted = if between == Between::Proportion { 2 } else { 1 };
    if line.rows.len() < wanted && !line.broken {
        unfit(line.name.span, TableFault::Rows { wanted }, found);
        return None;
    }
    let mut rows: Vec<(Quantity, Limit)> = Vec::new();
    let mut fits = true;
    for row in &line.rows {
        let Some(read) = row_of(line, row, (of, kind), reader, found) else {
            fits = false;
            continue;
        };
        // What follows a key with a wrong digit is out of order for that digit.
        fits = fits && follows(line, rows.last(), &read.0, row, found);
        if let Some(first) = rows.first()
            && shape(&first.1.range) != shape(&read.1.range)
        {
            let first = line.rows.first().map_or(line.span, |row| row.value.span);
            unfit(row.value.span, TableFault::Shape { first }, found);
            fits = false;
        }
        rows.push(read);
    }
    let per = line.per.as_ref().map(|per| reader.prose(per, found));
    let words = Words::of(&line.name.text);
    fits.then_some(Table { words, rows, between, per, span: line.name.span })
}

fn kind_of(name: &tree::Name, reader: Reader<'_>, found: &mut Findings) -> Option<KindId> {
    let kind = reader.units().kind_named(&name.text);
    if kind.is_none() {
        let near = nearest(&name.text, reader.units().kinds().iter().map(|kind| &*kind.name));
        let (wanted, span) = ("kind of quantity", name.span);
        found.add(&UnknownName { wanted, name: name.text.clone(), span, near, else_is: None });
    }
    kind
}

/// The grammar knows no fourth.
fn between_of(written: &str) -> Between {
    if written.ends_with("proportion") {
        Between::Proportion
    } else if written.ends_with("nothing") {
        Between::Nothing
    } else {
        Between::NextLower
    }
}

fn row_of(
    line: &tree::Table,
    row: &tree::TableRow,
    (of, kind): (KindId, KindId),
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<(Quantity, Limit)> {
    let mut names = names_in(&row.value);
    gather(&row.key, &mut names);
    if !names.is_empty() {
        let (table, place) = (line.name.text.clone(), row.span);
        found.add(&TableUnfit { table, place, fault: TableFault::Named });
        return None;
    }
    let key = reader.value(&row.key, Some(of), found);
    let value = reader.limit(&row.value, Some(kind), found);
    Some((key?, value?))
}

/// Whether a row's key is greater than that of the row before.
fn follows(
    line: &tree::Table,
    before: Option<&(Quantity, Limit)>,
    key: &Quantity,
    row: &tree::TableRow,
    found: &mut Findings,
) -> bool {
    let Some((last, _)) = before.filter(|(last, _)| last.value >= key.value) else { return true };
    let at = line.rows.iter().position(|other| other.span == row.span);
    let other = at.and_then(|at| line.rows.get(at.checked_sub(1)?));
    found.add(&TableOrder {
        table: line.name.text.clone(),
        key: key.written.clone(),
        place: row.key.span(),
        other: other.map_or(line.span, |row| row.key.span()),
        doubled: last.value == key.value,
    });
    false
}

/// What must be alike in all rows: a figure, or which ends there are and whether they belong.
fn shape(range: &Range) -> (bool, Option<bool>, Option<bool>) {
    let end = |end: &Option<locknut_quantity::Bound>| end.as_ref().map(|end| end.closed);
    (range.single().is_some(), end(&range.lower), end(&range.upper))
}

impl Reader<'_> {
    /// `stay-tension(air)` where it stands: what is handed in.
    pub(in crate::world) fn table_argument(
        &self,
        table: &Table,
        arguments: &[tree::Expression],
        span: Span,
        found: &mut Findings,
    ) -> Option<Typed> {
        let [argument] = arguments else {
            found.add(&TableUnfit {
                table: table.words.name.clone(),
                place: span,
                fault: TableFault::Arguments { given: arguments.len() },
            });
            return None;
        };
        self.typed(argument, table.rows.first().map(|(key, _)| key.kind), found)
    }
}

/// The first and the last key as written, where a figure lies outside of them.
pub(crate) fn outside_keys(table: &Table, key: &locknut_quantity::Exact) -> Option<String> {
    let (first, last) = table.keys()?;
    (key < first || key > last).then(|| keys_written(table))
}

/// `10 °C to 30 °C`
pub(crate) fn keys_written(table: &Table) -> String {
    let ends = [table.rows.first(), table.rows.last()];
    let ends: Vec<&str> = ends.into_iter().flatten().map(|(key, _)| &*key.written).collect();
    ends.join(" to ")
}
