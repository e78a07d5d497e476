//! What an expression with look-ups may come to: piece by piece, as between two rows a table is a straight line.

use super::digits::digits;
use super::ends::ends;
use super::linear::{Atom, Linear, common_step, linear};
use super::{Knowns, Possible};
use locknut_graph::{Expression, Operator, ReadingId, Table, TableEnd};
use locknut_quantity::{Bound, Exact, Grid, Quantity, Range, Units};
use num_traits::Zero;
use std::sync::Arc;

/// Above so many pieces no table is parted further, and what it gives is taken for wider than it is.
const MOST_PIECES: usize = 600;

/// A stretch of what is looked up by, and what the expression may come to there.
#[derive(Clone, Debug)]
pub(crate) struct Piece {
    pub(crate) possible: Possible,
    /// Whether it comes to both of its ends, and not only to something between them.
    pub(crate) exact: bool,
}

impl Piece {
    /// Whether it comes to nothing but what stands on these digits.
    pub(crate) fn lies_on(&self, digits: &Grid) -> bool {
        match (self.possible.range.single(), &self.possible.grid) {
            (Some(value), _) => digits.has(value),
            (None, Some(grid)) => {
                digits.has(grid.origin()) && (grid.step() / digits.step()).is_integer()
            }
            (None, None) => false,
        }
    }

    /// Whether it comes to nothing that stands on these digits.
    pub(crate) fn lies_beside(&self, digits: &Grid) -> bool {
        match (self.possible.range.single(), &self.possible.grid) {
            (Some(value), _) => !digits.has(value),
            (None, Some(grid)) => {
                let shared = common_step(grid.step(), digits.step());
                !((grid.origin() - digits.origin()) / shared).is_integer()
            }
            (None, None) => false,
        }
    }
}

/// What an expression may come to, piece by piece; one piece where it looks nothing up.
pub(crate) fn pieces(expression: &Expression, knowns: &Knowns) -> Vec<Piece> {
    let mut done = Vec::new();
    let mut left = vec![(expression.clone(), knowns.clone())];
    while let Some((expression, knowns)) = left.pop() {
        let room = MOST_PIECES.saturating_sub(done.len() + left.len());
        match parted(&expression, &knowns, room) {
            Some(parts) => left.extend(parts),
            None => done.push(whole(&expression, &knowns)),
        }
    }
    done
}

fn whole(expression: &Expression, knowns: &Knowns) -> Piece {
    if let Some(sum) = linear(expression, knowns) {
        return Piece { possible: sum.possible(knowns), exact: true };
    }
    let range = ends(expression, knowns).range();
    Piece { possible: Possible { range, grid: digits(expression, knowns) }, exact: false }
}

/// The expression over each stretch of one reading that it looks something up by; none where there is no such
/// reading, or where not all of it stands in its tables.
fn parted(
    expression: &Expression,
    knowns: &Knowns,
    room: usize,
) -> Option<Vec<(Expression, Knowns)>> {
    if linear(expression, knowns).is_some() {
        return None;
    }
    let by = key_readings(expression, knowns).into_iter().next()?;
    let all = Linear::of(Atom::Point(by, 0)).possible(knowns);
    let (low, high) = (&all.range.lower.as_ref()?.value, &all.range.upper.as_ref()?.value);
    let mut edges = edges(expression, by, knowns);
    edges.retain(|edge| low < edge && edge < high);
    edges.extend([low.clone(), high.clone()]);
    edges.sort();
    edges.dedup();
    if edges.len() * 2 > room {
        return None;
    }
    let mut parts = Vec::new();
    for stretch in stretches(&edges) {
        let Some(here) = all.within(&stretch) else { continue };
        let mut narrowed = knowns.clone();
        narrowed.get_mut(by)?.possible = all.narrowed(&here);
        parts.push((straight(expression, by, &stretch, knowns)?, narrowed));
    }
    Some(parts)
}

/// Each edge, and what lies between two of them.
fn stretches(edges: &[Exact]) -> Vec<Range> {
    let mut all: Vec<Range> =
        edges.iter().map(|edge| Range::closed(edge.clone(), edge.clone())).collect();
    let open = |value: &Exact| Some(Bound { value: value.clone(), closed: false });
    all.extend(edges.windows(2).filter_map(|pair| match pair {
        [from, to] => Some(Range { lower: open(from), upper: open(to) }),
        _ => None,
    }));
    all
}

/// What is looked up by one value of one reading: `constant + factor × reading`.
fn key(of: &Expression, knowns: &Knowns) -> Option<(ReadingId, Exact, Exact)> {
    let sum = linear(of, knowns)?;
    let mut terms = sum.terms.iter();
    let ((atom, factor), None) = (terms.next()?, terms.next()) else { return None };
    let known = knowns.get(atom.reading())?;
    (known.points == 1).then(|| (atom.reading(), sum.constant.clone(), factor.clone()))
}

fn look_ups(expression: &Expression) -> Vec<(&Arc<Table>, TableEnd, &Expression)> {
    let (mut all, mut left) = (Vec::new(), vec![expression]);
    while let Some(part) = left.pop() {
        match part {
            Expression::Value(_) | Expression::Reading(_) | Expression::Point(..) => {}
            Expression::Fold(_, parts) => left.extend(parts),
            Expression::Binary(_, one, other) => left.extend([&**other, &**one]),
            Expression::Negative(inner) => left.push(inner),
            Expression::LookUp(table, end, of) => {
                all.push((table, *end, &**of));
                left.push(of);
            }
        }
    }
    all
}

fn key_readings(expression: &Expression, knowns: &Knowns) -> Vec<ReadingId> {
    let keys = look_ups(expression).into_iter().filter_map(|(.., of)| key(of, knowns));
    keys.map(|(reading, ..)| reading).collect()
}

/// Where the reading stands at a row of some table.
fn edges(expression: &Expression, by: ReadingId, knowns: &Knowns) -> Vec<Exact> {
    let mut all = Vec::new();
    for (table, end, of) in look_ups(expression) {
        let Some((reading, constant, factor)) = key(of, knowns) else { continue };
        if reading == by {
            all.extend(table.points(end).map(|(row, _)| (row - &constant) / &factor));
        }
    }
    all
}

/// The expression with its look-ups by this reading as the straight lines that they are over a stretch; none
/// where some table says nothing there.
fn straight(
    expression: &Expression,
    by: ReadingId,
    over: &Range,
    knowns: &Knowns,
) -> Option<Expression> {
    let again = |part: &Expression| straight(part, by, over, knowns);
    Some(match expression {
        Expression::Value(_) | Expression::Reading(_) | Expression::Point(..) => expression.clone(),
        Expression::Negative(inner) => Expression::Negative(Box::new(again(inner)?)),
        Expression::Binary(operator, left, right) => {
            Expression::Binary(*operator, Box::new(again(left)?), Box::new(again(right)?))
        }
        Expression::Fold(fold, parts) => {
            Expression::Fold(*fold, parts.iter().map(again).collect::<Option<_>>()?)
        }
        Expression::LookUp(table, end, of) => match key(of, knowns) {
            Some((reading, constant, factor)) if reading == by => {
                let at = |edge: &Exact| &constant + edge * &factor;
                line(
                    table,
                    *end,
                    of,
                    (at(&over.lower.as_ref()?.value), at(&over.upper.as_ref()?.value)),
                )?
            }
            _ => Expression::LookUp(Arc::clone(table), *end, Box::new(again(of)?)),
        },
    })
}

/// What a table gives between two keys that have no row between them.
fn line(
    table: &Table,
    end: TableEnd,
    of: &Expression,
    (from, to): (Exact, Exact),
) -> Option<Expression> {
    let (two, four) = (Exact::from_integer(2.into()), Exact::from_integer(4.into()));
    let middle = (&from + &to) / &two;
    let half = table.at(end, &middle)?;
    if from == to {
        return Some(number(half));
    }
    // From inside: a step begins at a key, and is not yet there ahead of it.
    let slope = (&half - table.at(end, &((&from + &middle) / &two))?) * four / (to - from);
    if slope.is_zero() {
        return Some(number(half));
    }
    let fixed = half - &slope * middle;
    let rising =
        Expression::Binary(Operator::Multiply, Box::new(number(slope)), Box::new(of.clone()));
    Some(Expression::Binary(Operator::Add, Box::new(number(fixed)), Box::new(rising)))
}

fn number(value: Exact) -> Expression {
    let (kind, unit) = (Units::NUMBER, Units::ONE);
    Expression::Value(Quantity { value, kind, unit, decimals: 0, written: String::new() })
}
