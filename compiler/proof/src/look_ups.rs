//! Limits that a table gives, as a look-up: for each reading that may come, what is accepted.

use crate::choices::{Shown, told};
use crate::facts::LimitRow;
use locknut_graph::{Act, ComputedLimit, Expression, Fold, NodeId, ReadingId, StepGraph, Verdict};
use locknut_quantity::{Bound, Exact, Range, Units};
use num_traits::Signed;
use std::collections::{BTreeMap, BTreeSet};

/// More rows are no look-up that a fitter reads: then the table itself is printed, and how to work with it.
const MOST_ROWS: usize = 50;

/// Rows of every limit that a table gives and that rests on one reading at one point.
pub(crate) fn rows(graph: &StepGraph, units: &Units) -> BTreeMap<NodeId, Vec<LimitRow>> {
    let mut all = BTreeMap::new();
    for node in graph.flow.node_indices() {
        if let Some(act) = graph.node(node).act()
            && let Some(rows) = rows_of(graph, units, act)
        {
            all.insert(node, rows);
        }
    }
    all
}

fn rows_of(graph: &StepGraph, units: &Units, act: &Act) -> Option<Vec<LimitRow>> {
    let Some(Verdict::Accept { computed: Some(ends), .. }) = act.kind.verdict() else {
        return None;
    };
    let all = || ends.lower.iter().chain(&ends.upper).map(|(end, _)| end);
    if all().all(|end| end.tables().is_empty()) {
        return None;
    }
    let own = act.kind.reading()?;
    let mut rests_on: BTreeSet<ReadingId> = all().flat_map(Expression::readings).collect();
    rests_on.remove(&own);
    let reading = rests_on.pop_first().filter(|_| rests_on.is_empty())?;
    if graph.reading(reading).points.len() > 1 {
        return None;
    }
    let row = |value: &Exact| {
        let range = limit_at(ends, reading, value)?;
        Some(LimitRow { at: told(graph, units, reading, value)?, range })
    };
    Shown::at(graph, act, reading)?.values(MOST_ROWS)?.iter().map(row).collect()
}

fn limit_at(ends: &ComputedLimit, reading: ReadingId, value: &Exact) -> Option<Range> {
    let end = |end: &Option<(Expression, bool)>| {
        let Some((of, closed)) = end else { return Some(None) };
        Some(Some(Bound { value: worked(of, reading, value)?, closed: *closed }))
    };
    Some(Range { lower: end(&ends.lower)?, upper: end(&ends.upper)? })
}

/// The expression with the reading put in.
fn worked(expression: &Expression, reading: ReadingId, value: &Exact) -> Option<Exact> {
    let work = |part: &Expression| worked(part, reading, value);
    match expression {
        Expression::Value(quantity) => Some(quantity.value.clone()),
        Expression::Reading(of) | Expression::Point(of, _) => {
            (*of == reading).then(|| value.clone())
        }
        Expression::Negative(inner) => Some(-work(inner)?),
        Expression::LookUp(table, end, of) => table.at(*end, &work(of)?),
        Expression::Binary(operator, left, right) => operator.of(work(left)?, work(right)?),
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
