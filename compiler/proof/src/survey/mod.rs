//! Facts: where hazards stand, where the machine may not be left, how it stands, how long it takes.

mod hazards;
mod reached;
mod standing;
mod time;
mod ways;

pub(crate) use hazards::hazards;
pub(crate) use reached::reached;
pub(crate) use time::time;
pub(crate) use ways::ways;

use crate::engine::{Explored, Index, Slice, System, Visit};
use crate::facts::Facts;
use locknut_graph::VariableId;
use std::collections::BTreeSet;

/// The variables of what would cost more states than are allowed. It is never passed over: what could
/// not be surveyed could be missing on the sheet.
pub(crate) struct TooMuch(pub(crate) BTreeSet<VariableId>);

/// Where the machine may not be left, and how it stands.
pub(crate) fn standing(index: &Index<'_>, facts: &mut Facts) -> Result<(), TooMuch> {
    facts.do_not_leave = standing::do_not_leave(index)?;
    standing::stand(index, facts)
}

/// All states of a system.
fn walked<'s, 'i, 'g>(
    system: &'s System<'i, 'g>,
    slice: &Slice,
    visit: &mut Visit<'_>,
) -> Result<Explored<'s, 'i, 'g>, TooMuch> {
    let explored = Explored::of(system, visit);
    if explored.given_up { Err(TooMuch(slice.variables())) } else { Ok(explored) }
}

/// The nodes asked for, in ascending order, those of each freed child and lane apart: asked for at once,
/// they would keep all freed children apart from each other.
fn by_unit(index: &Index<'_>, which: impl Fn(usize) -> bool) -> Vec<Vec<usize>> {
    let of_units = index.units.iter().map(|unit| {
        let mut nodes: Vec<usize> =
            unit.nodes.iter().copied().filter(|node| which(*node)).collect();
        nodes.sort_unstable();
        nodes
    });
    of_units.filter(|nodes| !nodes.is_empty()).collect()
}

/// Keeps a unit apart from those that look like it: what is asked of its nodes is asked for any order.
fn apart(nodes: &[usize]) -> impl Fn(usize) -> String {
    |node| if nodes.binary_search(&node).is_ok() { "here".to_owned() } else { String::new() }
}
