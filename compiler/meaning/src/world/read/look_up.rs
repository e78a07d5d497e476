//! `stay-tension(air)`: a table where a figure or a limit may stand.

use super::Reader;
use super::expression::Typed;
use super::limit::Ends;
use super::value::{Constant, constant, decimals_for};
use crate::findings::quantities::{BetweenRows, OneFigure, TableLeft};
use crate::world::outside_keys;
use locknut_finding::{Findings, Span};
use locknut_graph::{Expression, Table, TableEnd};
use locknut_quantity::{Exact, Quantity};
use locknut_syntax::tree;
use std::sync::Arc;

impl Reader<'_> {
    /// The figure that a table gives; a finding where it gives limits.
    pub(super) fn looked_up(
        &self,
        table: &Arc<Table>,
        arguments: &[tree::Expression],
        span: Span,
        found: &mut Findings,
    ) -> Option<Typed> {
        let of = self.table_argument(table, arguments, span, found)?;
        if !table.is_of_figures() {
            let name = &table.words.name;
            found.add(&OneFigure {
                written: self.written_or(span, || name.clone()),
                span,
                found: "a table of limits".to_owned(),
                wanted: "one figure",
                mend: format!("write “accept {name}(…)” by itself, or give the table figures"),
            });
            return None;
        }
        self.end_of(table, TableEnd::Upper, &of, span, found)
    }

    /// The limit that a table gives.
    pub(super) fn looked_up_limit(
        &self,
        table: &Arc<Table>,
        arguments: &[tree::Expression],
        span: Span,
        found: &mut Findings,
    ) -> Option<Ends> {
        let of = self.table_argument(table, arguments, span, found)?;
        let (_, first) = table.rows.first()?;
        let (lower, upper) = (first.range.lower.as_ref(), first.range.upper.as_ref());
        let mut end = |bound: Option<&locknut_quantity::Bound>, end: TableEnd| {
            let Some(bound) = bound else { return Some(None) };
            Some(Some((self.end_of(table, end, &of, span, found)?, bound.closed)))
        };
        Some(Ends { lower: end(lower, TableEnd::Lower)?, upper: end(upper, TableEnd::Upper)? })
    }

    fn end_of(
        &self,
        table: &Arc<Table>,
        end: TableEnd,
        of: &Typed,
        span: Span,
        found: &mut Findings,
    ) -> Option<Typed> {
        let (_, first) = table.rows.first()?;
        let (kind, unit) = (first.kind, first.unit);
        let decimals = table.rows.iter().map(|(_, value)| value.decimals).max()?;
        let looked_up = |value: Expression| Typed { value, kind, unit, decimals, span };
        let Constant::Value(key) = constant(&of.value) else {
            let of = Box::new(of.value.clone());
            return Some(looked_up(Expression::LookUp(Arc::clone(table), end, of)));
        };
        let Some(value) = table.at(end, &key) else {
            self.in_no_row(table, &key, of, found);
            return None;
        };
        let written = self.written_or(span, || table.words.name.clone());
        let plain = Quantity { value: value.clone(), kind, unit, decimals, written };
        // As many digits as say it: what lies between two rows has more of them.
        let decimals = decimals_for(&value, self.units().unit(unit), decimals);
        Some(looked_up(Expression::Value(Quantity { decimals, ..plain })))
    }

    fn in_no_row(&self, table: &Table, key: &Exact, of: &Typed, found: &mut Findings) {
        let argument = self.written_or(of.span, || "this".to_owned());
        let (name, declared) = (table.words.name.clone(), table.span);
        match outside_keys(table, key) {
            Some(keys) => found.add(&TableLeft {
                apart: false,
                table: name,
                uncovered: vec![argument],
                argument: None,
                place: of.span,
                keys,
                declared,
                in_vain: Vec::new(),
            }),
            None => found.add(&BetweenRows {
                table: name,
                between: vec![argument],
                argument: None,
                place: of.span,
                declared,
            }),
        }
    }
}
