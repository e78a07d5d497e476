//! How the machine stands at each step and end, and where it may not be left.

use super::{TooMuch, apart, by_unit, walked};
use crate::engine::{Cell, Detail, Index, Slice, System};
use crate::facts::Facts;
use locknut_graph::{NodeId, NodeKind, StepId, VariableId};
use std::collections::{BTreeMap, BTreeSet};

/// Steps at whose end, on some path, the machine may not be left.
pub(super) fn do_not_leave(index: &Index<'_>) -> Result<BTreeSet<StepId>, TooMuch> {
    let condition = &index.graph.safe_to_leave.0;
    let mut steps = BTreeSet::new();
    for nodes in by_unit(index, |_| true) {
        let mut slice = Slice(index.cells(condition));
        let seen = slice.close(index, &nodes);
        let system = System::build(index, &slice, &seen, &apart(&nodes), Detail::Verdict, None);
        let asks = system.asks(condition);
        let step_of = |at: usize| {
            let kept = system.nodes.get(at)?;
            index.graph.node(NodeId::new(kept.node)).step
        };
        let here = |at: usize| {
            system.nodes.get(at).is_some_and(|kept| nodes.binary_search(&kept.node).is_ok())
        };
        walked(&system, &slice, &mut |_, moved, after, _| {
            // Whoever is in another unit passes nodes that are left out: there it is not told where a
            // step ends.
            let Some(step) = step_of(moved.node).filter(|_| here(moved.node)) else { return };
            let mut goes_on = false;
            system.standing_at(after, |at| goes_on |= step_of(at) == Some(step));
            if !goes_on && asks.hold(after) == Some(false) {
                steps.insert(step);
            }
        })?;
    }
    Ok(steps)
}

/// For each variable: the values it may have at the start of each step and at each end.
pub(super) fn stand(index: &Index<'_>, facts: &mut Facts) -> Result<(), TooMuch> {
    let graph = index.graph;
    let firsts: BTreeMap<usize, StepId> =
        (0u16..).map(StepId).zip(&graph.steps).map(|(id, step)| (step.first.index(), id)).collect();
    let told = by_unit(index, |node| {
        firsts.contains_key(&node) || matches!(index.kind(node), NodeKind::End(_))
    });
    for variable in (0..u16::try_from(graph.variables.len()).unwrap_or(u16::MAX)).map(VariableId) {
        let normal = graph.variable(variable).normal;
        let starts_so =
            |(id, values): &(VariableId, Vec<u8>)| *id == variable && *values != [normal];
        // What nobody writes stands as it is.
        let written = index.touched.contains_key(&Cell::Value(variable));
        if !written && !graph.starts.iter().any(starts_so) {
            continue;
        }
        for nodes in &told {
            for (node, value) in values_at(index, variable, nodes)? {
                if value == normal {
                    continue;
                }
                if let Some(step) = firsts.get(&node) {
                    let here = facts.standing.entry(*step).or_default();
                    here.entry(variable).or_default().insert(value);
                }
                if let NodeKind::End(_) = index.kind(node) {
                    let here = facts.left_at.entry(NodeId::new(node)).or_default();
                    here.entry(variable).or_default().insert(value);
                }
            }
        }
    }
    Ok(())
}

/// The values that a variable may have at nodes of one unit.
fn values_at(
    index: &Index<'_>,
    variable: VariableId,
    nodes: &[usize],
) -> Result<BTreeSet<(usize, u8)>, TooMuch> {
    let mut slice = Slice(BTreeSet::from([Cell::Value(variable)]));
    let seen = slice.close(index, nodes);
    let system = System::build(index, &slice, &seen, &apart(nodes), Detail::Verdict, None);
    let explored = walked(&system, &slice, &mut |_, _, _, _| {})?;
    let mut values = BTreeSet::new();
    for state in (0..explored.count()).map(|id| explored.state(id)) {
        let Some(value) = system.values(state).get(&variable).copied() else { continue };
        system.standing_at(state, |at| {
            values.extend(system.nodes.get(at).map(|kept| (kept.node, value)));
        });
    }
    values.retain(|(node, _)| nodes.binary_search(node).is_ok());
    Ok(values)
}
