//! How the machine stands at each step and end, and where it may not be left.

use super::{Answer, Asking, TooMuch, apart, ask_each, by_unit, walked};
use crate::engine::{Asks, Cell, Detail, Index, Kind, Slice, System, Watch};
use crate::facts::{Facts, NotLeft};
use locknut_graph::{Condition, NodeId, NodeKind, StepId, VariableId};
use std::collections::{BTreeMap, BTreeSet};

/// Steps at whose end, on some path, the machine may not be left, and what makes it so.
pub(crate) fn do_not_leave(index: &Index<'_>) -> Result<NotLeft, TooMuch> {
    let condition = &index.graph.safe_to_leave.0;
    let Condition::All(parts) = condition else { return unsafe_after(index, condition, false) };
    let whole = unsafe_after(index, condition, true);
    if whole.is_ok() {
        return whole;
    }
    // What must all hold fails where one part does, and each part sees less.
    let mut steps = NotLeft::new();
    for part in parts {
        add(&mut steps, unsafe_after(index, part, false)?);
    }
    Ok(steps)
}

fn add(steps: &mut NotLeft, more: NotLeft) {
    for (step, values) in more {
        let here = steps.entry(step).or_default();
        for (variable, values) in values {
            here.entry(variable).or_default().extend(values);
        }
    }
}

/// A step at whose end the machine may not be left, and a value that makes it so.
type Unsafe = (StepId, Option<(VariableId, u8)>);

/// `listed`: only as long as its states may be listed.
fn unsafe_after(
    index: &Index<'_>,
    condition: &Condition,
    listed: bool,
) -> Result<NotLeft, TooMuch> {
    let cells = index.cells(condition);
    let asked = by_unit(index, |_| true);
    let step_of = |node: usize| index.graph.node(NodeId::new(node)).step;
    let answers = ask_each(index, &asked, &cells, |nodes, asking| {
        let mut slice = Slice(cells.clone());
        let seen = slice.close(index, nodes);
        let system =
            System::build(index, &slice, &seen, &apart(nodes, asking), Detail::Verdict, None);
        if listed && asking != Asking::Few && !index.lists(&system) {
            return Err(TooMuch(slice.variables()));
        }
        let asks = system.asks(condition);
        let parts = Parts::of(&system, condition);
        let kept = |at: usize| system.nodes.get(at).map(|kept| kept.node);
        let here = |at: usize| kept(at).is_some_and(|node| nodes.binary_search(&node).is_ok());
        let mut unsafe_at: BTreeSet<(usize, Unsafe)> = BTreeSet::new();
        let watch = parts.watch(&system, &asks);
        let walked = walked(asking, &system, &slice, &watch, &mut |_, moved, after, _| {
            // Whoever is in another unit passes nodes that are left out: there it is not told where a
            // step ends.
            let node = kept(moved.node).filter(|_| here(moved.node));
            let Some((node, step)) = node.and_then(|node| Some((node, step_of(node)?))) else {
                return;
            };
            let (mut goes_on, mut over) = (false, true);
            system.standing_at(after, |at| {
                goes_on |= kept(at).and_then(step_of) == Some(step);
                over &= matches!(system.nodes.get(at).map(|kept| &kept.kind), Some(Kind::End));
            });
            // How the machine is left at the end of the job is proved by itself.
            if !goes_on && !over && asks.hold(after) != Some(true) {
                unsafe_at.insert((node, (step, None)));
                let failing = parts.failing(&system, after).into_iter();
                unsafe_at.extend(failing.map(|value| (node, (step, Some(value)))));
            }
        })?;
        Ok(walked.map(|_| unsafe_at))
    })?;
    let mut steps = NotLeft::new();
    let note = |steps: &mut NotLeft, step: StepId, value: Option<(VariableId, u8)>| {
        let here = steps.entry(step).or_default();
        if let Some((variable, value)) = value {
            here.entry(variable).or_default().insert(value);
        }
    };
    for (group, nodes, unsafe_at) in answers {
        // Where a child is answered for by another like it, each of its steps ends as any of that one’s.
        let of = |nodes: &[usize]| nodes.iter().filter_map(|node| step_of(*node)).collect();
        let (own, asked): (BTreeSet<StepId>, BTreeSet<StepId>) = (of(&group.nodes), of(nodes));
        for (_, (step, value)) in unsafe_at {
            if own == asked {
                note(&mut steps, step, value);
            } else {
                for step in &own {
                    note(&mut steps, *step, value);
                }
            }
        }
    }
    Ok(steps)
}

/// What must all hold for the machine to be left, part by part, with the variables of each.
struct Parts(Vec<(Asks, Vec<VariableId>)>);

impl Parts {
    fn of(system: &System<'_, '_>, condition: &Condition) -> Self {
        let parts = if let Condition::All(parts) = condition {
            parts.as_slice()
        } else {
            std::slice::from_ref(condition)
        };
        let part = |one: &Condition| (system.asks(one), one.variables().into_iter().collect());
        Self(parts.iter().map(part).collect())
    }

    /// How each part stands after each move.
    fn watch(&self, system: &System<'_, '_>, whole: &Asks) -> Watch {
        let values = self.0.iter().flat_map(|(_, variables)| variables);
        let values = values.filter_map(|of| system.layout.cell(Cell::Value(*of)));
        let mut watch = Watch::of_moves(whole, system.everyone().chain(values).collect());
        if let Some(moves) = &mut watch.moves {
            moves.asks.extend(self.0.iter().map(|(asks, _)| asks.clone()));
        }
        watch
    }

    /// The values of whatever fails.
    fn failing(&self, system: &System<'_, '_>, state: &[u64]) -> Vec<(VariableId, u8)> {
        let values = system.values(state);
        let failing = self.0.iter().filter(|(asks, _)| asks.hold(state) != Some(true));
        let variables = failing.flat_map(|(_, variables)| variables);
        variables.filter_map(|of| Some((*of, *values.get(of)?))).collect()
    }
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
        let cells = BTreeSet::from([Cell::Value(variable)]);
        let answers = ask_each(index, &told, &cells, |nodes, asking| {
            values_at(index, variable, nodes, asking)
        })?;
        for (group, nodes, values) in answers {
            let mut note = |node: usize, value: u8| {
                if let Some(step) = firsts.get(&node) {
                    let here = facts.standing.entry(*step).or_default();
                    here.entry(variable).or_default().insert(value);
                }
                if let NodeKind::End(_) = index.kind(node) {
                    let here = facts.left_at.entry(NodeId::new(node)).or_default();
                    here.entry(variable).or_default().insert(value);
                }
            };
            if nodes == group.nodes {
                for (node, value) in &values {
                    note(*node, *value);
                }
            } else {
                // Nothing in it touches the variable: it stands alike at each of its nodes.
                for node in &group.nodes {
                    for (_, value) in &values {
                        note(*node, *value);
                    }
                }
            }
        }
    }
    // What stands as it normally does on every path is not told; where it may stand otherwise, all is.
    let odd = |variable: &VariableId, values: &BTreeSet<u8>| {
        let normal = graph.variable(*variable).normal;
        values.iter().any(|value| *value != normal)
    };
    for here in facts.standing.values_mut() {
        here.retain(|variable, values| odd(variable, values));
    }
    for here in facts.left_at.values_mut() {
        here.retain(|variable, values| odd(variable, values));
    }
    facts.standing.retain(|_, here| !here.is_empty());
    facts.left_at.retain(|_, here| !here.is_empty());
    Ok(())
}

/// The values that a variable may have at nodes of one unit.
fn values_at(
    index: &Index<'_>,
    variable: VariableId,
    nodes: &[usize],
    asking: Asking,
) -> Result<Option<Answer<u8>>, TooMuch> {
    let mut slice = Slice(BTreeSet::from([Cell::Value(variable)]));
    let seen = slice.close(index, nodes);
    let system = System::build(index, &slice, &seen, &apart(nodes, asking), Detail::Verdict, None);
    let own: Vec<_> = system.layout.cell(Cell::Value(variable)).into_iter().collect();
    let watch = Watch::everywhere(&system, &own);
    let walked = walked(asking, &system, &slice, &watch, &mut |_, _, _, _| {})?;
    let Some(walked) = walked else { return Ok(None) };
    let mut values = BTreeSet::new();
    for state in walked.states().map(|id| walked.state(id)) {
        let Some(value) = system.values(state).get(&variable).copied() else { continue };
        system.standing_at(state, |at| {
            values.extend(system.nodes.get(at).map(|kept| (kept.node, value)));
        });
    }
    values.retain(|(node, _)| nodes.binary_search(node).is_ok());
    Ok(Some(values))
}
