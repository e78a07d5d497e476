//! Look-up rows of a choice: which member fits which reading, without arithmetic for the fitter.

use crate::facts::ChoiceRow;
use locknut_graph::{
    ActKind, Choice, Expression, Fold, NodeId, NodeKind, Operator, Prefer, ReadingId, ReadingKind,
    StepGraph,
};
use locknut_quantity::{Exact, Grid, Quantity, UnitId, Units, to_decimal};
use num_traits::{Signed, Zero};
use std::collections::BTreeMap;

/// The most readings that are tried for one table: a gauge of 0.001 mm over 100 mm has as many.
const MOST_READINGS: usize = 100_000;

/// Rows of every choice that rests on one reading at one point.
pub(crate) fn rows(graph: &StepGraph, units: &Units) -> BTreeMap<NodeId, Vec<ChoiceRow>> {
    let mut all = BTreeMap::new();
    for node in graph.flow.node_indices() {
        if let NodeKind::Act(act) = &graph.node(node).kind
            && let ActKind::Choose(choice) = &act.kind
            && let Some(rows) = rows_of(graph, units, choice)
        {
            all.insert(node, rows);
        }
    }
    all
}

fn rows_of(graph: &StepGraph, units: &Units, choice: &Choice) -> Option<Vec<ChoiceRow>> {
    let reading = only_reading(&choice.value, choice.reading)?;
    // The mean of several points falls between the digits of the gauge: the sheet gives a worked line.
    if graph.reading(reading).points.len() > 1 {
        return None;
    }
    let grid = grid(graph, reading)?;
    let (unit, decimals) = match &graph.reading(reading).kind {
        ReadingKind::Quantity { unit, decimals, .. } => (*unit, *decimals),
        ReadingKind::Answer { .. }
        | ReadingKind::Serial
        | ReadingKind::Date
        | ReadingKind::Text => return None,
    };
    let told = |value: &Exact| told(units, unit, decimals, value);
    let mut rows: Vec<ChoiceRow> = Vec::new();
    for value in grid {
        let member = member_for(choice, reading, &value);
        match rows.last_mut() {
            Some(last) if last.member == member => last.to = told(&value),
            _ => rows.push(ChoiceRow { from: told(&value), to: told(&value), member }),
        }
    }
    Some(rows)
}

/// A reading as the instrument shows it.
pub(crate) fn told(units: &Units, unit: UnitId, decimals: u32, value: &Exact) -> Quantity {
    let shown = units.unit(unit);
    let digits = to_decimal(&shown.number_of(value), decimals);
    Quantity {
        value: value.clone(),
        kind: shown.kind,
        unit,
        decimals,
        written: format!("{digits} {}", shown.name).trim_end().to_owned(),
    }
}

/// Every reading that may come: on the instrument's own digits, inside what is expected.
pub(crate) fn grid(graph: &StepGraph, reading: ReadingId) -> Option<Vec<Exact>> {
    let act =
        graph.flow.node_weights().filter_map(locknut_graph::Node::act).find(
            |act| matches!(&act.kind, ActKind::Measure { reading: of, .. } if *of == reading),
        )?;
    let instrument = graph.instruments.get(act.instrument?)?;
    let step = &instrument.resolution.as_ref()?.value;
    let range = match act.kind.expect() {
        Some(expect) => instrument.range.intersect(&expect.range),
        None => instrument.range.clone(),
    };
    Grid::of_instrument(&instrument.range, step.clone())?.values_in(&range, MOST_READINGS)
}

/// The one reading that an expression rests on besides the member tried; none where there are more.
fn only_reading(expression: &Expression, own: ReadingId) -> Option<ReadingId> {
    let mut found = Vec::new();
    gather(expression, own, &mut found);
    found.dedup();
    match found.as_slice() {
        [one] => Some(*one),
        _ => None,
    }
}

pub(crate) fn gather(expression: &Expression, own: ReadingId, found: &mut Vec<ReadingId>) {
    match expression {
        Expression::Value(_) => {}
        Expression::Reading(reading) | Expression::Point(reading, _) => {
            if *reading != own {
                found.push(*reading);
            }
        }
        Expression::Fold(_, parts) => parts.iter().for_each(|part| gather(part, own, found)),
        Expression::Binary(_, left, right) => {
            gather(left, own, found);
            gather(right, own, found);
        }
        Expression::Negative(inner) | Expression::LookUp(_, _, inner) => gather(inner, own, found),
    }
}

fn member_for(choice: &Choice, reading: ReadingId, value: &Exact) -> Option<usize> {
    let mut best: Option<(usize, Exact)> = None;
    for (position, (size, _)) in choice.set.iter().enumerate() {
        let Some(result) = worked(&choice.value, choice.reading, &size.value, reading, value)
        else {
            continue;
        };
        if !choice.range.range.contains(&result) {
            continue;
        }
        let rank = match &choice.prefer {
            Prefer::Smallest => size.value.clone(),
            Prefer::Largest => -size.value.clone(),
            Prefer::Nearest(wanted) => (&result - &wanted.value).abs(),
        };
        // Members stand in ascending order, so the first of equals is the smaller.
        if best.as_ref().is_none_or(|(_, least)| rank < *least) {
            best = Some((position, rank));
        }
    }
    best.map(|(position, _)| position)
}

/// The expression with the member tried and the reading (all its points alike) put in.
pub(crate) fn worked(
    expression: &Expression,
    own: ReadingId,
    size: &Exact,
    reading: ReadingId,
    value: &Exact,
) -> Option<Exact> {
    let work = |part: &Expression| worked(part, own, size, reading, value);
    match expression {
        Expression::Value(quantity) => Some(quantity.value.clone()),
        Expression::Reading(of) | Expression::Point(of, _) if *of == own => Some(size.clone()),
        Expression::Reading(of) | Expression::Point(of, _) => {
            (*of == reading).then(|| value.clone())
        }
        Expression::Negative(inner) => Some(-work(inner)?),
        Expression::LookUp(table, end, of) => table.at(*end, &work(of)?),
        Expression::Binary(operator, left, right) => {
            let (left, right) = (work(left)?, work(right)?);
            match operator {
                Operator::Add => Some(left + right),
                Operator::Subtract => Some(left - right),
                Operator::Multiply => Some(left * right),
                Operator::Divide if right.is_zero() => None,
                Operator::Divide => Some(left / right),
            }
        }
        Expression::Fold(fold, parts) => {
            let all = parts.iter().map(work).collect::<Option<Vec<_>>>()?;
            match fold {
                Fold::Max => all.into_iter().max(),
                Fold::Min => all.into_iter().min(),
                Fold::Mean if all.len() == 1 => all.into_iter().next(),
                Fold::Abs => all.into_iter().next().map(|one| one.abs()),
                // Sums and spreads over points are no function of one value.
                Fold::Mean | Fold::Spread | Fold::Sum | Fold::Count => None,
            }
        }
    }
}
