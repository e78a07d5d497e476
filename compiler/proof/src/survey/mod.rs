//! Facts: where hazards stand, where the machine may not be left, how it stands, how long it takes.

mod hazards;
mod reached;
mod standing;
mod time;
mod ways;

pub(crate) use hazards::hazards;
pub(crate) use reached::reached;
pub(crate) use standing::do_not_leave;
pub(crate) use time::time;
pub(crate) use ways::ways;

use crate::engine::{Cell, Index, Slice, System, Visit, Walked, Watch};
use crate::facts::Facts;
use locknut_graph::{NodeKind, VariableId};
use std::collections::{BTreeMap, BTreeSet};

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
    watch: &Watch,
    visit: &mut Visit<'_>,
) -> Result<Walked<'s, 'i, 'g>, TooMuch> {
    Walked::of(system, watch, visit).ok_or_else(|| TooMuch(slice.variables()))
}

/// Nodes that are asked for at once.
pub(super) struct Asked {
    pub(super) nodes: Vec<usize>,
    /// The freed block whose child they make up and the branches that decide about them: what such children
    /// do not touch is alike in all of them. None for what stands in no freed block, and for lanes.
    like: Option<(usize, Vec<usize>)>,
    unit: usize,
}

/// The nodes asked for, in ascending order, those of each freed child and lane apart, and of each branch:
/// asked for at once, they would keep all freed children apart from each other, and all branches open.
fn by_unit(index: &Index<'_>, which: impl Fn(usize) -> bool) -> Vec<Asked> {
    let mut all = Vec::new();
    for (id, unit) in index.units.iter().enumerate() {
        let mut here: BTreeMap<Vec<usize>, Vec<usize>> = BTreeMap::new();
        for node in unit.nodes.iter().copied().filter(|node| which(*node)) {
            let branches = index.decides.iter().filter(|(_, decided)| decided.has(node));
            here.entry(branches.map(|(branch, _)| *branch).collect()).or_default().push(node);
        }
        let block = unit.inside.map(|(_, block, _)| block);
        let freed = block.filter(|of| matches!(index.kind(*of), NodeKind::AnyOrder { .. }));
        for (branches, mut nodes) in here {
            nodes.sort_unstable();
            all.push(Asked { nodes, like: freed.map(|block| (block, branches)), unit: id });
        }
    }
    all
}

/// Asks for each group of nodes; children of one freed block that have no part in what is watched are
/// asked for once.
fn ask_each<'a, T: Clone>(
    index: &Index<'_>,
    asked: &'a [Asked],
    cells: &BTreeSet<Cell>,
    mut ask: impl FnMut(&[usize]) -> Result<T, TooMuch>,
) -> Result<Vec<(&'a Asked, T)>, TooMuch> {
    let touching = units_touching(index, cells);
    let mut alike: BTreeMap<&(usize, Vec<usize>), T> = BTreeMap::new();
    let mut answers = Vec::with_capacity(asked.len());
    for group in asked {
        let like = group.like.as_ref().filter(|_| !touching.contains(&group.unit));
        let answer = match like.and_then(|like| alike.get(like)) {
            Some(answer) => answer.clone(),
            None => ask(&group.nodes)?,
        };
        if let Some(like) = like {
            alike.entry(like).or_insert_with(|| answer.clone());
        }
        answers.push((group, answer));
    }
    Ok(answers)
}

/// Units in which something touches these cells, and those around them.
fn units_touching(index: &Index<'_>, cells: &BTreeSet<Cell>) -> BTreeSet<usize> {
    let nodes = cells.iter().filter_map(|cell| index.touched.get(cell)).flatten();
    let mut units = BTreeSet::new();
    for node in nodes {
        let mut unit = index.unit.get(*node).copied().flatten();
        while let Some(id) = unit.filter(|id| units.insert(*id)) {
            unit = index.units.get(id).and_then(|unit| unit.inside).map(|(around, ..)| around);
        }
    }
    units
}

/// Keeps a unit apart from those that look like it: what is asked of its nodes is asked for any order.
fn apart(nodes: &[usize]) -> impl Fn(usize) -> String {
    |node| if nodes.binary_search(&node).is_ok() { "here".to_owned() } else { String::new() }
}
