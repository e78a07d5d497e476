//! Pairs → tables.

use super::{Build, Pair};
use crate::grammar::Rule;
use crate::tree::{ClauseValue, Table, TableRow};

impl Build {
    pub(super) fn table(&mut self, pair: &Pair<'_>) -> Option<Table> {
        let parts: Vec<Pair<'_>> = pair.clone().into_inner().collect();
        let mut table = Table {
            name: self.name(parts.first()?),
            of: self.name(parts.get(1)?),
            kind: self.name(parts.get(2)?),
            rows: Vec::new(),
            between: Vec::new(),
            per: None,
            broken: false,
            span: self.span(pair),
        };
        for part in parts.iter().skip(3) {
            match part.as_rule() {
                Rule::table_row => table.rows.extend(self.table_row(part)),
                Rule::between => table.between.push(self.name(part)),
                Rule::per => {
                    if let Some(ClauseValue::Text(text)) =
                        self.clause(part).map(|clause| clause.value)
                    {
                        table.per = Some(text);
                    }
                }
                _ => {
                    self.bad(part, Rule::only_table_line);
                    table.broken = true;
                }
            }
        }
        Some(table)
    }

    fn table_row(&self, pair: &Pair<'_>) -> Option<TableRow> {
        let mut inner = pair.clone().into_inner();
        let key = self.expression(&inner.next()?);
        Some(TableRow { key, value: self.limit(&inner.next()?), span: self.span(pair) })
    }
}
