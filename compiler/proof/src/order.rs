//! Freed children whose order decides how the machine stands afterwards.

use crate::engine::Index;
use crate::flow::OrderMatters;
use crate::words::value_words;
use locknut_finding::{Findings, Span};
use locknut_graph::{Effect, NodeId, NodeKind, VariableId};
use std::collections::BTreeMap;

/// The value that a child leaves a variable at, and the line that does.
type Last = (u8, Span);

/// Warns of each variable that two children of a freed block leave at different values. What only some
/// ways through a child write is left to the proof of what rests on it.
pub(crate) fn matters(index: &Index<'_>, found: &mut Findings) {
    for (block, units) in &index.blocks {
        if !matches!(index.kind(*block), NodeKind::AnyOrder { .. }) {
            continue;
        }
        let mut first: BTreeMap<VariableId, Last> = BTreeMap::new();
        let mut told = Vec::new();
        for unit in units {
            for (variable, (value, span)) in left_by(index, *unit) {
                let (before, one) = *first.entry(variable).or_insert((value, span));
                if before == value || told.contains(&variable) {
                    continue;
                }
                told.push(variable);
                let declared = index.graph.variable(variable);
                let said = |value: u8| {
                    let words = value_words(index.graph, variable, value);
                    words.strip_prefix(&declared.words.said).unwrap_or(&words).trim().to_owned()
                };
                found.add(&OrderMatters {
                    one,
                    other: span,
                    variable: declared.words.said.clone(),
                    values: [said(before), said(value)],
                });
            }
        }
    }
}

/// What every way through a unit leaves each variable at, as far as all that write it lie on one way.
fn left_by(index: &Index<'_>, unit: usize) -> BTreeMap<VariableId, Last> {
    let mut trail = Vec::new();
    index.through(unit, &mut trail);
    let mut last = BTreeMap::new();
    let mut on_trail: BTreeMap<VariableId, usize> = BTreeMap::new();
    for (node, way) in &trail {
        let edge = index.graph.follow(*node, *way).map(|(edge, _)| &edge.effects[..]);
        let effects = index.graph.node(*node).effects.iter().chain(edge.unwrap_or_default());
        for effect in effects {
            if let Effect::Set { variable, value } = effect
                && index.graph.variable(*variable).kind.of_machine()
            {
                last.insert(*variable, (*value, index.graph.node(*node).span));
                *on_trail.entry(*variable).or_default() += 1;
            }
        }
    }
    let inside = index.inside(unit);
    last.retain(|variable, _| {
        let writes = inside.iter().map(|node| writes(index, *node, *variable)).sum::<usize>();
        on_trail.get(variable) == Some(&writes)
    });
    last
}

fn writes(index: &Index<'_>, node: usize, of: VariableId) -> usize {
    let ways =
        index.graph.ways(NodeId::new(node)).into_iter().flat_map(|(_, edge, _)| &edge.effects);
    let set = |effect: &&Effect| matches!(effect, Effect::Set { variable, .. } if *variable == of);
    index.effects(node).iter().chain(ways).filter(set).count()
}
