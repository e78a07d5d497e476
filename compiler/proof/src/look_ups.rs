//! Limits that a table gives, as a look-up: for each reading that may come, what is accepted.

use crate::choices::{gather, grid, told, worked};
use crate::facts::LimitRow;
use locknut_graph::{
    Act, ComputedLimit, Expression, NodeId, ReadingId, ReadingKind, StepGraph, Verdict,
};
use locknut_quantity::{Bound, Exact, Range, Units};
use num_traits::Zero;
use std::collections::BTreeMap;

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
    let mut rests_on = Vec::new();
    all().for_each(|end| gather(end, own, &mut rests_on));
    rests_on.dedup();
    let [reading] = rests_on.as_slice() else { return None };
    let of = graph.reading(*reading);
    let ReadingKind::Quantity { unit, decimals, .. } = &of.kind else { return None };
    if of.points.len() > 1 {
        return None;
    }
    let values = grid(graph, *reading).filter(|values| values.len() <= MOST_ROWS)?;
    let row = |value: &Exact| {
        let range = limit_at(ends, own, *reading, value)?;
        Some(LimitRow { at: told(units, *unit, *decimals, value), range })
    };
    values.iter().map(row).collect()
}

fn limit_at(
    ends: &ComputedLimit,
    own: ReadingId,
    reading: ReadingId,
    value: &Exact,
) -> Option<Range> {
    let end = |end: &Option<(Expression, bool)>| {
        let Some((of, closed)) = end else { return Some(None) };
        let value = worked(of, own, &Exact::zero(), reading, value)?;
        Some(Some(Bound { value, closed: *closed }))
    };
    Some(Range { lower: end(&ends.lower)?, upper: end(&ends.upper)? })
}
