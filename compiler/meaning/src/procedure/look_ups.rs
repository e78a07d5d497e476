//! Tables that a line looks something up in: what is looked up must lie inside their keys.

use super::asks::expressions_of;
use super::coverage::{Gap, Possible, possible, uncovered};
use super::laying::Laying;
use super::said;
use crate::findings::quantities::{BetweenRows, TableLeft};
use crate::findings::readings::RowAgainstOthers;
use crate::world::keys_written;
use locknut_finding::{Findings, Span};
use locknut_graph::{Between, ReadingId, Table};
use locknut_quantity::Range;
use locknut_syntax::tree::{Condition, Expression, Limit};
use std::collections::BTreeSet;
use std::sync::Arc;

/// Of the stretches between rows at most so many are named.
const MOST_NAMED: usize = 3;

impl Laying<'_> {
    /// Holds each look-up of an expression against what is handed in.
    pub(super) fn look_ups(&mut self, written: &Expression) {
        for (table, argument, span) in self.calls_of_tables(written) {
            let kind = table.rows.first().map(|(key, _)| key.kind);
            let mut unheard = Findings::default();
            let typed = self.read(|reader, _| reader.typed(argument, kind, &mut unheard));
            if let Some(typed) = typed {
                let values = possible(&typed.value, &self.knowns);
                self.look_up(&table, &values, &typed.value.readings(), span);
            }
        }
    }

    pub(super) fn look_ups_of_limit(&mut self, written: &Limit) {
        // Both ends that look up the same leave the table for one reason.
        let so_far = self.found.reports().len();
        for end in expressions_of(written) {
            self.look_ups(end);
        }
        self.found.once_alike(so_far);
    }

    pub(super) fn look_ups_of_condition(&mut self, written: &Condition) {
        match written {
            Condition::Within { value, limit, .. } => {
                self.look_ups(value);
                self.look_ups_of_limit(limit);
            }
            Condition::Not(inner, _) => self.look_ups_of_condition(inner),
            Condition::And(parts, _) | Condition::Or(parts, _) => {
                for part in parts {
                    self.look_ups_of_condition(part);
                }
            }
            Condition::Is { .. }
            | Condition::Series { .. }
            | Condition::Serial { .. }
            | Condition::Each { .. }
            | Condition::Mark { .. } => {}
        }
    }

    fn calls_of_tables<'t>(
        &self,
        written: &'t Expression,
    ) -> Vec<(Arc<Table>, &'t Expression, Span)> {
        let (mut calls, mut left) = (Vec::new(), vec![written]);
        while let Some(part) = left.pop() {
            match part {
                Expression::Quantity(_) | Expression::Name(_) | Expression::Point { .. } => {}
                Expression::Call { function, arguments, .. } => {
                    let table = self.world.tables.get(&function.text);
                    if let (Some(table), [argument]) = (table, arguments.as_slice()) {
                        calls.push((Arc::clone(table), argument, argument.span()));
                    }
                    left.extend(arguments);
                }
                Expression::Binary { left: one, right: other, .. } => {
                    left.extend([&**other, &**one]);
                }
                Expression::Negative(inner, _) | Expression::PercentOf { of: inner, .. } => {
                    left.push(inner);
                }
            }
        }
        calls
    }

    fn look_up(
        &mut self,
        table: &Table,
        values: &Possible,
        readings: &BTreeSet<ReadingId>,
        place: Span,
    ) {
        let (Some((first, last)), Some((key, _))) = (table.keys(), table.rows.first()) else {
            return;
        };
        self.odd_rows(table, place);
        let units = &self.world.units;
        let in_words = |gaps: Vec<Gap>| -> Vec<String> {
            let gaps = gaps.iter().take(MOST_NAMED);
            gaps.map(|gap| said::range(units, &gap.shown, key, key.decimals)).collect()
        };
        let (name, declared) = (table.words.name.clone(), table.span);
        let all = Range::closed(first.clone(), last.clone());
        let apart = values.within(&all).is_none();
        let beyond = uncovered(values, &[all]);
        if !beyond.is_empty() {
            let uncovered = in_words(beyond);
            let (argument, keys) = (Some(self.written(place)), keys_written(table));
            let (table, in_vain) = (name, self.accepted_in_vain(readings));
            let left =
                TableLeft { table, argument, place, uncovered, keys, declared, apart, in_vain };
            self.found.add(&left);
            return;
        }
        if table.between != Between::Nothing {
            return;
        }
        let rows: Vec<Range> = table
            .rows
            .iter()
            .map(|(key, _)| Range::closed(key.value.clone(), key.value.clone()))
            .collect();
        let between = in_words(uncovered(values, &rows));
        if !between.is_empty() {
            let argument = Some(self.written(place));
            self.found.add(&BetweenRows { table: name, argument, place, between, declared });
        }
    }

    fn odd_rows(&mut self, table: &Table, place: Span) {
        let Some(odd) = table.odd_rows(&self.world.units) else { return };
        let places = self.world.table_rows.get(&table.words.name);
        let at = |row: &usize| {
            let (key, value) = table.rows.get(*row)?;
            Some((*places?.get(*row)?, format!("{} -> {}", key.written, value.written)))
        };
        let rows: Vec<(Span, String)> = odd.rows().iter().filter_map(at).collect();
        if !rows.is_empty() {
            let (table, place) = (table.words.name.clone(), Some(place));
            self.found.add(&RowAgainstOthers { table, odd, rows, place });
        }
    }
}
