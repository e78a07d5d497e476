//! Tables: what stands at a key, and what holds between two keys.

use crate::{Expression, Prose, Words};
use locknut_finding::Span;
use locknut_quantity::{Exact, Limit, Quantity, Units};
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

    /// Rows that look as if a digit had slipped, by their values at either end or by their keys.
    pub fn odd_rows(&self, units: &Units) -> Option<Odd> {
        let number = |limit: &Limit, value: &Exact| units.unit(limit.unit).number_of(value);
        let ends = [TableEnd::Lower, TableEnd::Upper].map(|end| {
            let values = self.rows.iter().filter_map(|(_, limit)| {
                let bound = match end {
                    TableEnd::Lower => limit.range.lower.as_ref(),
                    TableEnd::Upper => limit.range.upper.as_ref(),
                };
                Some(number(limit, &bound?.value))
            });
            odd(&values.collect::<Vec<Exact>>())
        });
        let keys = self.rows.iter().map(|(key, _)| units.unit(key.unit).number_of(&key.value));
        let keys = || odd_key(&keys.collect::<Vec<Exact>>()).map(Odd::Key);
        let widths: Option<Vec<Exact>> =
            self.rows.iter().map(|(_, limit)| limit.range.width()).collect();
        // A tolerance that slipped takes its ends along.
        let width = widths.and_then(|widths| odd_width(&widths)).map(Odd::Width);
        width.or_else(|| ends.into_iter().flatten().next()).or_else(keys)
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

/// What is odd about rows, by their places.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Odd {
    /// One of these alone keeps the others from rising, or falling, all along.
    Turns(Vec<usize>),
    /// The first or the last, which lies far off all the others.
    Jumps(usize),
    /// The first or the last, whose key does.
    Key(usize),
    /// One whose tolerance does.
    Width(usize),
}

impl Odd {
    /// The rows that it may be.
    pub fn rows(&self) -> &[usize] {
        match self {
            Self::Turns(rows) => rows,
            Self::Jumps(row) | Self::Key(row) | Self::Width(row) => std::slice::from_ref(row),
        }
    }
}

/// Which of some values looks as if a digit had slipped.
///
/// Where that may be the first or the last, it may as well be a curve that turns there: then one is told only that lies
/// five times off both next to it, or more.
pub fn odd(values: &[Exact]) -> Option<Odd> {
    if values.len() < 3 {
        return None;
    }
    if in_line(values) {
        return jump(values).map(Odd::Jumps);
    }
    let without = |at: usize| {
        let mut others = values.to_vec();
        let own = others.remove(at);
        in_line(&others).then_some((at, own, others))
    };
    let alone: Vec<_> = (0..values.len()).filter_map(without).collect();
    let last = values.len() - 1;
    let may_turn = alone.iter().any(|(at, ..)| *at == 0 || *at == last);
    let off = |(at, own, others): &(usize, Exact, Vec<Exact>)| {
        // Held against the two next to it: beside a slipped one every row looks so.
        let from = at.saturating_sub(1).min(others.len().saturating_sub(2));
        others.iter().skip(from).take(2).all(|beside| is_far_off(own, beside))
    };
    let back = |(at, ..): &(usize, Exact, Vec<Exact>)| turns_back(values, *at);
    let told = alone.iter().filter(|one| !may_turn || off(one) || back(one));
    let told: Vec<usize> = told.map(|(at, ..)| *at).collect();
    (!told.is_empty()).then_some(Odd::Turns(told))
}

/// Whether a first or a last value goes back by more than twice what any two others lie apart: no curve turns so sharply.
fn turns_back(values: &[Exact], at: usize) -> bool {
    let mut steps: Vec<Exact> =
        values.iter().zip(values.iter().skip(1)).map(|(one, other)| other - one).collect();
    if at + 1 == values.len() {
        steps.reverse();
    } else if at != 0 {
        return false;
    }
    let Some((own, rest)) = steps.split_first().filter(|(_, rest)| rest.len() > 1) else {
        return false;
    };
    let twice = Exact::from_integer(2.into());
    let other_way =
        rest.iter().all(|step| step.is_positive() != own.is_positive() && step.abs().is_positive());
    other_way && rest.iter().all(|step| own.abs() > step.abs() * &twice)
}

/// The first or the last of values in line, where it alone lies five times off the two next to it.
fn jump(values: &[Exact]) -> Option<usize> {
    let last = values.len().checked_sub(1).filter(|last| *last > 2)?;
    let alone = |own: &Exact, others: &[Exact], beside: [usize; 2]| {
        let near =
            others.iter().zip(others.iter().skip(1)).all(|(one, other)| !is_far_off(one, other));
        near && beside
            .iter()
            .all(|at| others.get(*at).is_some_and(|beside| is_far_off(own, beside)))
    };
    let (first, behind) = values.split_first()?;
    let (end, ahead) = values.split_last()?;
    if alone(end, ahead, [last - 1, last - 2]) {
        return Some(last);
    }
    alone(first, behind, [0, 1]).then_some(0)
}

/// The first or the last of keys that are else evenly spaced, where it lies nine such steps away, or more.
fn odd_key(keys: &[Exact]) -> Option<usize> {
    let steps: Vec<Exact> =
        keys.iter().zip(keys.iter().skip(1)).map(|(one, other)| other - one).collect();
    let far = |step: &Exact, others: &[Exact]| {
        let (own, rest) = others.split_first()?;
        let even = !rest.is_empty() && rest.iter().all(|other| other == own);
        (even && *step >= own * Exact::from_integer(9.into())).then_some(())
    };
    let (first, behind) = steps.split_first()?;
    let (end, ahead) = steps.split_last()?;
    let at_end = far(end, ahead).map(|()| keys.len() - 1);
    at_end.or_else(|| far(first, behind).map(|()| 0))
}

/// The one tolerance that lies five times off all the others, which lie near one another.
fn odd_width(widths: &[Exact]) -> Option<usize> {
    let alone = |at: usize| {
        let mut others = widths.to_vec();
        let own = others.remove(at);
        let (least, most) = (others.iter().min()?, others.iter().max()?);
        let off = others.iter().all(|other| is_far_off(&own, other));
        (off && !is_far_off(least, most)).then_some(at)
    };
    if widths.len() < 3 { None } else { (0..widths.len()).find_map(alone) }
}

/// Whether values rise all along, or fall.
fn in_line(values: &[Exact]) -> bool {
    values.is_sorted() || values.iter().rev().is_sorted()
}

/// Whether two values lie so far apart as a slipped digit takes them, or nearly: one is five times the other, or more.
pub fn is_far_off(one: &Exact, other: &Exact) -> bool {
    let (one, other) = (one.abs(), other.abs());
    let (less, more) = if one < other { (one, other) } else { (other, one) };
    less.is_positive() && more >= less * Exact::from_integer(5.into())
}

#[cfg(test)]
mod tests {
    use super::{Odd, odd, odd_key};
    use locknut_quantity::Exact;

    fn exact(values: &[i64]) -> Vec<Exact> {
        values.iter().map(|value| Exact::from_integer((*value).into())).collect()
    }

    #[test]
    fn a_row_that_slipped_is_told_and_a_curve_that_turns_is_not() {
        let told = |values: &[i64]| odd(&exact(values));
        assert_eq!(told(&[440, 500, 650, 620, 680]), Some(Odd::Turns(vec![2, 3])));
        assert_eq!(told(&[440, 500, 56, 620, 680]), Some(Odd::Turns(vec![2])));
        assert_eq!(told(&[440, 56, 560, 620]), Some(Odd::Turns(vec![1])));
        assert_eq!(told(&[100, 120, 130, 14]), Some(Odd::Turns(vec![3])));
        assert_eq!(told(&[100, 1200, 140]), Some(Odd::Turns(vec![1])));
        assert_eq!(told(&[680, 620, 56, 500, 440]), Some(Odd::Turns(vec![2])));
        assert_eq!(told(&[100, 120, 140, 1600]), Some(Odd::Jumps(3)));
        assert_eq!(told(&[10, 120, 140, 160]), Some(Odd::Jumps(0)));
        assert_eq!(told(&[900, 820, 740, 660, 850]), Some(Odd::Turns(vec![4])));
        assert_eq!(told(&[100, 440, 400, 350]), Some(Odd::Turns(vec![0])));
        let sound: [&[i64]; 11] = [
            &[100, 120, 130, 125],
            &[600, 640, 580, 520],
            &[100, 300, 500, 400, 200],
            &[100, 400, 140],
            &[100, 100, 140],
            &[5, 4, 4, 1],
            &[1, 2],
            &[-3, -1, 0, 2],
            &[1, 10, 100, 1000],
            &[1, 3, 10, 30],
            // Density of water at 0, 4, 10 and 20 °C, in hundredths of kg/m³ (common practice, from memory).
            &[99_984, 99_997, 99_970, 99_821],
        ];
        for values in sound {
            assert_eq!(told(values), None, "{values:?}");
        }
    }

    #[test]
    fn a_key_that_slipped_lies_many_even_steps_away() {
        let told = |keys: &[i64]| odd_key(&exact(keys));
        assert_eq!(told(&[0, 10, 20, 30, 400]), Some(4));
        assert_eq!(told(&[-100, 0, 10, 20]), Some(0));
        assert_eq!(told(&[500, 1000, 1500, 20_000]), Some(3));
        for sound in [&[0, 10, 20, 30, 100][..], &[1, 10, 100, 1000], &[0, 10, 200], &[0, 10]] {
            assert_eq!(told(sound), None, "{sound:?}");
        }
    }
}
