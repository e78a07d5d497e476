//! Tables: what stands at a key, and what holds between two keys.

use crate::{Expression, Prose, Words};
use locknut_finding::Span;
use locknut_quantity::{Exact, Limit, Quantity};
use num_traits::Signed;
use std::sync::Arc;

/// A look-up with one home.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    /// As said.
    pub words: Words,
    /// Rows in ascending order of their keys; all values have the same ends.
    pub rows: Vec<(Quantity, Limit)>,
    /// What holds between two rows.
    pub between: Between,
    /// Where its figures come from.
    pub per: Option<Prose>,
    /// Where it is declared.
    pub span: Span,
}

/// What holds between two rows of a table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Between {
    /// A straight line from row to row.
    Proportion,
    /// Nothing: only the keys themselves may occur.
    Nothing,
    /// What stands at the next lower key.
    NextLower,
}

/// Which end of a table's values is meant; a figure is both.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TableEnd {
    /// The lower one.
    Lower,
    /// The upper one.
    Upper,
}

impl Table {
    /// Whether its values are figures and not limits.
    pub fn is_of_figures(&self) -> bool {
        self.rows.iter().all(|(_, value)| value.range.single().is_some())
    }

    /// Keys and what stands there, of one end; none of a row without that end.
    pub fn points(&self, end: TableEnd) -> impl Iterator<Item = (&Exact, &Exact)> {
        self.rows.iter().filter_map(move |(key, value)| {
            let bound = match end {
                TableEnd::Lower => value.range.lower.as_ref(),
                TableEnd::Upper => value.range.upper.as_ref(),
            };
            Some((&key.value, &bound?.value))
        })
    }

    /// Rows of which one alone keeps the others from rising, or falling, all along: where a digit slipped, it is there.
    ///
    /// A row at an end, or the middle one of three, may be the end of a curve that turns: it must be ten times too
    /// much or too little, or nearly.
    pub fn out_of_line(&self) -> Vec<usize> {
        let mut rows = self.out_of_line_at(TableEnd::Lower);
        if rows.is_empty() {
            rows = self.out_of_line_at(TableEnd::Upper);
        }
        rows
    }

    fn out_of_line_at(&self, end: TableEnd) -> Vec<usize> {
        let values: Vec<&Exact> = self.points(end).map(|(_, value)| value).collect();
        if values.len() < 3 || in_line(&values) {
            return Vec::new();
        }
        let alone = |at: usize| {
            let mut others = values.clone();
            let own = others.remove(at);
            let inside = at > 0 && at < others.len();
            // Held against the two next to it: beside a slipped one every row looks so.
            let from = at.saturating_sub(1).min(others.len().saturating_sub(2));
            let mut beside = others.iter().skip(from).take(2);
            let mut slipped = || beside.all(|beside| is_tenfold(own, beside));
            in_line(&others) && (inside && others.len() > 2 || slipped())
        };
        (0..values.len()).filter(|at| alone(*at)).collect()
    }

    /// The first and the last key.
    pub fn keys(&self) -> Option<(&Exact, &Exact)> {
        Some((&self.rows.first()?.0.value, &self.rows.last()?.0.value))
    }

    /// What it gives at a key; none where it says nothing.
    pub fn at(&self, end: TableEnd, key: &Exact) -> Option<Exact> {
        let mut below: Option<(&Exact, &Exact)> = None;
        for (at, value) in self.points(end) {
            if at == key {
                return Some(value.clone());
            }
            if at < key {
                below = Some((at, value));
                continue;
            }
            let (low, from) = below?;
            return match self.between {
                Between::Proportion => Some(from + (value - from) * (key - low) / (at - low)),
                Between::NextLower => Some(from.clone()),
                Between::Nothing => None,
            };
        }
        None
    }

    /// The least and the greatest that it gives for keys from `low` to `high`; none where it says nothing of
    /// some of them.
    pub fn over(&self, end: TableEnd, low: &Exact, high: &Exact) -> Option<(Exact, Exact)> {
        let (first, last) = self.keys()?;
        if low > high || low < first || high > last {
            return None;
        }
        let within = self.points(end).filter(|(key, _)| *key >= low && *key <= high);
        let mut values: Vec<Exact> = within.map(|(_, value)| value.clone()).collect();
        // A straight line has its ends at the ends of a stretch, and a step begins at a key.
        match self.between {
            Between::Proportion => values.extend([self.at(end, low)?, self.at(end, high)?]),
            Between::NextLower => values.push(self.at(end, low)?),
            Between::Nothing => {}
        }
        Some((values.iter().min()?.clone(), values.iter().max()?.clone()))
    }

    /// By how much its value changes at most, for a change of the key by one; none where it jumps.
    pub fn steepest(&self, end: TableEnd) -> Option<Exact> {
        if self.between != Between::Proportion {
            return None;
        }
        let points: Vec<(&Exact, &Exact)> = self.points(end).collect();
        let slopes = points.windows(2).filter_map(|pair| match pair {
            [(low, from), (high, to)] => Some(((*to - *from) / (*high - *low)).abs()),
            _ => None,
        });
        slopes.max()
    }
}

impl Expression {
    /// The tables that it looks something up in, each once.
    pub fn tables(&self) -> Vec<&Arc<Table>> {
        let mut tables: Vec<&Arc<Table>> = Vec::new();
        let mut left = vec![self];
        while let Some(part) = left.pop() {
            match part {
                Self::Value(_) | Self::Reading(_) | Self::Point(..) => {}
                Self::Fold(_, parts) => left.extend(parts),
                Self::Binary(_, one, other) => left.extend([&**other, &**one]),
                Self::Negative(inner) => left.push(inner),
                Self::LookUp(table, _, of) => {
                    if !tables.contains(&table) {
                        tables.push(table);
                    }
                    left.push(of);
                }
            }
        }
        tables
    }
}

/// Whether values rise all along, or fall.
fn in_line(values: &[&Exact]) -> bool {
    values.is_sorted() || values.iter().rev().is_sorted()
}

/// Whether two values lie so far apart as a slipped digit takes them: half of ten times, or more.
fn is_tenfold(one: &Exact, other: &Exact) -> bool {
    let (one, other) = (one.abs(), other.abs());
    let (less, more) = if one < other { (one, other) } else { (other, one) };
    less.is_positive() && more >= less * Exact::from_integer(5.into())
}
