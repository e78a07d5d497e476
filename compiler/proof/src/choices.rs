//! Look-up rows of a choice: which member fits which reading, without arithmetic for the fitter.
//!
//! Each member fits one stretch of the readings, and between the ends of all stretches nothing changes;
//! so the members are compared once for each piece between two ends, not once for each reading.

use crate::facts::{ChoiceRow, ChoiceTable};
use locknut_graph::{
    Act, ActKind, Choice, Expression, Fold, NodeId, NodeKind, Operator, Prefer, ReadingId,
    ReadingKind, StepGraph,
};
use locknut_quantity::{Bound, Exact, Grid, Quantity, Range, UnitId, Units, to_decimal};
use num_traits::{One, Signed, ToPrimitive, Zero};
use std::collections::{BTreeMap, BTreeSet};

/// Rows of every choice that goes by one number: a reading at one point, or what is worked out of several.
pub(crate) fn tables(graph: &StepGraph, units: &Units) -> BTreeMap<NodeId, ChoiceTable> {
    let mut all = BTreeMap::new();
    for node in graph.flow.node_indices() {
        if let NodeKind::Act(act) = &graph.node(node).kind
            && let ActKind::Choose(choice) = &act.kind
            && let Some(table) = table_of(graph, units, act, choice)
        {
            all.insert(node, table);
        }
    }
    all
}

fn table_of(graph: &StepGraph, units: &Units, act: &Act, choice: &Choice) -> Option<ChoiceTable> {
    let By { value: by, shown, sum, unit, decimals } =
        by_reading(graph, act, choice).or_else(|| by_key(choice))?;
    let stretches = stretches(choice, &shown, &sum);
    let told = |at: i64| self::shown(units, unit, decimals, &shown.value(at));
    let mut rows: Vec<ChoiceRow> = Vec::new();
    let begins = begins(choice, &stretches, &shown);
    for (at, from) in begins.iter().enumerate() {
        let to = begins.get(at + 1).map_or(shown.last, |next| next - 1);
        let member = best(choice, &stretches, *from);
        match rows.last_mut() {
            Some(last) if last.member == member => last.to = told(to),
            _ => rows.push(ChoiceRow { from: told(*from), to: told(to), member }),
        }
    }
    Some(ChoiceTable { by, rows })
}

/// What a table goes by.
struct By {
    value: Expression,
    shown: Shown,
    sum: Sum,
    unit: UnitId,
    decimals: u32,
}

/// One reading of one value, or one point of it.
fn by_reading(graph: &StepGraph, act: &Act, choice: &Choice) -> Option<By> {
    let id = only_reading(&choice.value, choice.reading)?;
    let by = if graph.reading(id).points.len() > 1 {
        Expression::Point(id, only_point(&choice.value, id)?)
    } else {
        Expression::Reading(id)
    };
    let ReadingKind::Quantity { unit, decimals, .. } = graph.reading(id).kind else { return None };
    let (shown, sum) = (Shown::at(graph, act, id)?, Sum::of(&choice.value, choice.reading)?);
    Some(By { value: by, shown, sum, unit, decimals })
}

/// One number that is worked out of several.
fn by_key(choice: &Choice) -> Option<By> {
    let key = choice.key.as_ref()?;
    let (read, chosen) = (key.counts.clone(), key.weight.clone());
    let sum = Sum { fixed: Exact::zero(), read, chosen };
    let shown = Shown::within_range(key.grid.clone(), &key.range)?;
    Some(By { value: key.value.clone(), shown, sum, unit: key.unit, decimals: key.decimals })
}

/// A reading as the instrument shows it; none of what is no quantity.
pub(crate) fn told(
    graph: &StepGraph,
    units: &Units,
    by: ReadingId,
    value: &Exact,
) -> Option<Quantity> {
    let ReadingKind::Quantity { unit, decimals, .. } = &graph.reading(by).kind else { return None };
    Some(shown(units, *unit, *decimals, value))
}

fn shown(units: &Units, unit: UnitId, decimals: u32, value: &Exact) -> Quantity {
    let shown = units.unit(unit);
    let digits = to_decimal(&((value - &shown.zero) / &shown.factor), decimals);
    Quantity {
        value: value.clone(),
        kind: shown.kind,
        unit,
        decimals,
        written: format!("{digits} {}", shown.name).trim_end().to_owned(),
    }
}

/// The readings that may come, counted from 0: on the instrument's own digits, inside what is expected.
pub(crate) struct Shown {
    grid: Grid,
    range: Range,
    first: Exact,
    last: i64,
}

impl Shown {
    pub(crate) fn of(graph: &StepGraph, reading: ReadingId) -> Option<Self> {
        let acts = graph.flow.node_weights().filter_map(locknut_graph::Node::act);
        let act = acts.into_iter().find(|act| {
            matches!(&act.kind, ActKind::Measure { reading: of, .. } | ActKind::Count { reading: of, .. } if *of == reading)
        })?;
        let (grid, range) = if let ActKind::Count { .. } = act.kind {
            let whole = Grid::new(Exact::zero(), Exact::one())?;
            (whole, Range::from(Exact::zero(), true))
        } else {
            let instrument = graph.instruments.get(act.instrument?)?;
            let step = instrument.resolution.as_ref()?.value.clone();
            (Grid::of_instrument(&instrument.range, step)?, instrument.range.clone())
        };
        let range = match act.kind.expect() {
            Some(expect) => range.intersect(&expect.range),
            None => range,
        };
        Self::within_range(grid, &range)
    }

    /// Those that somebody who comes to this act may have read: the lines above may have sent others away.
    pub(crate) fn at(graph: &StepGraph, act: &Act, reading: ReadingId) -> Option<Self> {
        let all = Self::of(graph, reading)?;
        match act.settled.get(&reading) {
            Some(left) => Self::within_range(all.grid.clone(), &all.range.intersect(left)),
            None => Some(all),
        }
    }

    fn within_range(grid: Grid, range: &Range) -> Option<Self> {
        let range = grid.draw_in(range);
        let first = range.lower.as_ref()?.value.clone();
        let last = (grid.count_in(&range)? - 1u8).to_i64().filter(|last| *last >= 0)?;
        Some(Self { grid, range, first, last })
    }

    /// All of them; none where there are more than `most`.
    pub(crate) fn values(&self, most: usize) -> Option<Vec<Exact>> {
        self.grid.values_in(&self.range, most)
    }

    /// The first and the last.
    pub(crate) fn ends(&self) -> (Exact, Exact) {
        (self.first.clone(), self.value(self.last))
    }

    fn value(&self, at: i64) -> Exact {
        &self.first + self.grid.step() * Exact::from_integer(at.into())
    }

    /// The last reading at or below a value.
    fn below(&self, value: &Exact) -> Option<i64> {
        ((value - &self.first) / self.grid.step()).floor().to_integer().to_i64()
    }

    /// The first and the last reading in a range; none where there is no reading in it.
    fn within(&self, range: &Range) -> Option<(i64, i64)> {
        let drawn = self.grid.draw_in(&self.range.intersect(range));
        let (lower, upper) = (drawn.lower.as_ref()?, drawn.upper.as_ref()?);
        let (from, to) = (self.below(&lower.value)?, self.below(&upper.value)?);
        (from <= to).then_some((from, to))
    }
}

/// The readings for which a member fits.
struct Stretch {
    from: i64,
    to: i64,
    member: usize,
    /// What the result is at the first reading of all, and what each further step adds to it.
    result: (Exact, Exact),
}

fn stretches(choice: &Choice, shown: &Shown, sum: &Sum) -> Vec<Stretch> {
    let stretch = |wanted: &Range, member: usize, size: &Exact| {
        let fixed = &sum.fixed + &sum.chosen * size;
        let readings = solved(wanted, &fixed, &sum.read)?;
        let (from, to) = shown.within(&readings)?;
        let first = &fixed + &sum.read * &shown.first;
        Some(Stretch { from, to, member, result: (first, &sum.read * shown.grid.step()) })
    };
    if choice.rows.is_empty() {
        let all = choice.set.iter().enumerate();
        let fit = |(at, member): (usize, &locknut_graph::Member)| {
            stretch(&choice.range.range, at, &member.size.value)
        };
        all.filter_map(fit).collect()
    } else {
        let nothing = Exact::zero();
        let row =
            |(limit, at): &(locknut_quantity::Limit, usize)| stretch(&limit.range, *at, &nothing);
        choice.rows.iter().filter_map(row).collect()
    }
}

/// The readings for which `fixed + read × reading` lies in a range; none: no reading does.
fn solved(range: &Range, fixed: &Exact, read: &Exact) -> Option<Range> {
    if read.is_zero() {
        return range.contains(fixed).then(Range::default);
    }
    let solve =
        |bound: &Bound| Bound { value: (&bound.value - fixed) / read, closed: bound.closed };
    let (lower, upper) = (range.lower.as_ref().map(solve), range.upper.as_ref().map(solve));
    let turned = read.is_negative();
    Some(if turned { Range { lower: upper, upper: lower } } else { Range { lower, upper } })
}

/// Where another member may become the best.
fn begins(choice: &Choice, stretches: &[Stretch], shown: &Shown) -> Vec<i64> {
    let ends = stretches.iter().flat_map(|stretch| [stretch.from, stretch.to + 1]);
    let mut all: BTreeSet<i64> = ends.collect();
    all.insert(0);
    if let (Prefer::Nearest(wanted), true) = (&choice.prefer, choice.rows.is_empty()) {
        // Of two neighbours one is nearer up to where both are as far away; members that fit are neighbours.
        for (one, other) in stretches.iter().zip(stretches.iter().skip(1)) {
            let (first, step) = &one.result;
            if step.is_zero() {
                continue;
            }
            let middle = (first + &other.result.0) / Exact::from_integer(2.into());
            let at = ((&wanted.value - middle) / step).floor().to_integer().to_i64();
            all.extend(at.into_iter().flat_map(|at| [at, at + 1]));
        }
    }
    all.into_iter().filter(|at| (0..=shown.last).contains(at)).collect()
}

fn best(choice: &Choice, stretches: &[Stretch], at: i64) -> Option<usize> {
    let mut fitting = stretches.iter().filter(|stretch| (stretch.from..=stretch.to).contains(&at));
    // Members stand in ascending order, so the first of equals is the smaller.
    let best = match &choice.prefer {
        _ if !choice.rows.is_empty() => fitting.next(),
        Prefer::Smallest => fitting.min_by_key(|stretch| stretch.member),
        Prefer::Largest => fitting.max_by_key(|stretch| stretch.member),
        Prefer::Fewest => fitting
            .min_by_key(|stretch| choice.set.get(stretch.member).map(|member| member.pieces.len())),
        Prefer::Nearest(wanted) => fitting.min_by_key(|stretch| {
            let (first, step) = &stretch.result;
            (first + step * Exact::from_integer(at.into()) - &wanted.value).abs()
        }),
    };
    best.map(|stretch| stretch.member)
}

/// `fixed + read × the reading + chosen × the member`
struct Sum {
    fixed: Exact,
    read: Exact,
    chosen: Exact,
}

impl Sum {
    /// None where the expression is no such sum.
    fn of(expression: &Expression, own: ReadingId) -> Option<Self> {
        let just = |fixed: Exact| Self { fixed, read: Exact::zero(), chosen: Exact::zero() };
        Some(match expression {
            Expression::Value(quantity) => just(quantity.value.clone()),
            Expression::Reading(of) | Expression::Point(of, _) if *of == own => {
                Self { chosen: Exact::one(), ..just(Exact::zero()) }
            }
            Expression::Reading(_) | Expression::Point(..) => {
                Self { read: Exact::one(), ..just(Exact::zero()) }
            }
            Expression::Negative(inner) => Self::of(inner, own)?.times(&-Exact::one()),
            Expression::Binary(operator, left, right) => {
                let (left, right) = (Self::of(left, own)?, Self::of(right, own)?);
                match operator {
                    Operator::Add => left.plus(&right),
                    Operator::Subtract => left.plus(&right.times(&-Exact::one())),
                    Operator::Multiply if right.is_fixed() => left.times(&right.fixed),
                    Operator::Multiply if left.is_fixed() => right.times(&left.fixed),
                    Operator::Divide if right.is_fixed() && !right.fixed.is_zero() => {
                        left.times(&right.fixed.recip())
                    }
                    Operator::Multiply | Operator::Divide => return None,
                }
            }
            Expression::Fold(fold, parts) => Self::folded(*fold, parts, own)?,
            Expression::LookUp(..) => return None,
        })
    }

    /// Each part has one value.
    fn folded(fold: Fold, parts: &[Expression], own: ReadingId) -> Option<Self> {
        let nothing = || Self { fixed: Exact::zero(), read: Exact::zero(), chosen: Exact::zero() };
        let count = Exact::from_integer(parts.len().into());
        let sum =
            || parts.iter().try_fold(nothing(), |sum, part| Some(sum.plus(&Self::of(part, own)?)));
        match (fold, parts) {
            (Fold::Max | Fold::Min, [one]) => Self::of(one, own),
            (Fold::Spread, [_]) => Some(nothing()),
            (Fold::Count, _) => Some(Self { fixed: count, ..nothing() }),
            (Fold::Sum, _) => sum(),
            (Fold::Mean, [_, ..]) => Some(sum()?.times(&count.recip())),
            (Fold::Max | Fold::Min | Fold::Spread | Fold::Mean | Fold::Abs, _) => None,
        }
    }

    fn is_fixed(&self) -> bool {
        self.read.is_zero() && self.chosen.is_zero()
    }

    fn plus(&self, other: &Self) -> Self {
        Self {
            fixed: &self.fixed + &other.fixed,
            read: &self.read + &other.read,
            chosen: &self.chosen + &other.chosen,
        }
    }

    fn times(&self, factor: &Exact) -> Self {
        Self {
            fixed: &self.fixed * factor,
            read: &self.read * factor,
            chosen: &self.chosen * factor,
        }
    }
}

/// The one point of a reading that an expression rests on; none where it rests on several, or on all of them.
fn only_point(expression: &Expression, by: ReadingId) -> Option<usize> {
    let mut points = BTreeSet::new();
    let mut left = vec![expression];
    while let Some(part) = left.pop() {
        match part {
            Expression::Point(of, point) if *of == by => {
                points.insert(*point);
            }
            Expression::Reading(of) if *of == by => return None,
            Expression::Value(_) | Expression::Reading(_) | Expression::Point(..) => {}
            Expression::Negative(inner) | Expression::LookUp(_, _, inner) => left.push(inner),
            Expression::Binary(_, one, other) => left.extend([&**one, &**other]),
            Expression::Fold(_, parts) => left.extend(parts),
        }
    }
    if points.len() == 1 { points.pop_first() } else { None }
}

/// The one reading that an expression rests on besides the member tried; none where there are more.
fn only_reading(expression: &Expression, own: ReadingId) -> Option<ReadingId> {
    let mut found = expression.readings();
    found.remove(&own);
    if found.len() == 1 { found.pop_first() } else { None }
}
