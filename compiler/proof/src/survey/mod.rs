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

/// How some nodes are asked for.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Asking {
    /// By themselves, as long as few enough states may come of it to be listed.
    Few,
    /// With all others of which too many may come: drawn they need not be asked for one by one.
    AtOnce,
    /// By themselves, whatever comes of it.
    Alone,
}

/// All states of a system; none where they are asked for only if they are few, and may be many.
fn walked<'s, 'i, 'g>(
    asking: Asking,
    system: &'s System<'i, 'g>,
    slice: &Slice,
    watch: &Watch,
    visit: &mut Visit<'_>,
) -> Result<Option<Walked<'s, 'i, 'g>>, TooMuch> {
    if asking == Asking::Few && !system.index.lists(system) {
        return Ok(None);
    }
    all_of(system, slice, watch, visit).map(Some)
}

/// All states of a system.
fn all_of<'s, 'i, 'g>(
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

/// What is so at each node that was asked for.
type Answer<T> = BTreeSet<(usize, T)>;

/// A group of nodes, the nodes that were asked for in its stead, and what is so at those.
type Answered<'a, T> = (&'a Asked, &'a [usize], Answer<T>);

/// Asks for each group of nodes; children of one freed block that have no part in what is watched are
/// asked for once.
fn ask_each<'a, T: Clone + Ord>(
    index: &Index<'_>,
    asked: &'a [Asked],
    cells: &BTreeSet<Cell>,
    mut ask: impl FnMut(&[usize], Asking) -> Result<Option<Answer<T>>, TooMuch>,
) -> Result<Vec<Answered<'a, T>>, TooMuch> {
    let touching = units_touching(index, cells);
    let mut alike: BTreeMap<&(usize, Vec<usize>), usize> = BTreeMap::new();
    let mut questions: Vec<&[usize]> = Vec::new();
    let mut groups: Vec<(&Asked, usize)> = Vec::with_capacity(asked.len());
    for group in asked {
        let like = group.like.as_ref().filter(|_| !touching.contains(&group.unit));
        let next = questions.len();
        let question = like.map_or(next, |like| *alike.entry(like).or_insert(next));
        if question == next {
            questions.push(&group.nodes);
        }
        groups.push((group, question));
    }
    let answers = answered(&questions, &mut ask)?;
    let whole = |(group, at): (&'a Asked, usize)| {
        Some((group, *questions.get(at)?, answers.get(at)?.clone()))
    };
    Ok(groups.into_iter().filter_map(whole).collect())
}

/// An answer to each question: first those of which few states come, then all others at once.
fn answered<T: Clone + Ord>(
    questions: &[&[usize]],
    ask: &mut impl FnMut(&[usize], Asking) -> Result<Option<Answer<T>>, TooMuch>,
) -> Result<Vec<Answer<T>>, TooMuch> {
    let few = questions.iter().map(|nodes| ask(nodes, Asking::Few));
    let few: Vec<Option<Answer<T>>> = few.collect::<Result<_, _>>()?;
    let open = questions.iter().zip(&few).filter(|(_, answer)| answer.is_none());
    let mut open: Vec<usize> = open.flat_map(|(nodes, _)| nodes.iter().copied()).collect();
    open.sort_unstable();
    let all = if open.is_empty() { None } else { ask(&open, Asking::AtOnce).ok().flatten() };
    let mut answers = Vec::with_capacity(few.len());
    for (nodes, answer) in questions.iter().zip(few) {
        let own = |all: &Answer<T>| {
            let own = all.iter().filter(|(node, _)| nodes.binary_search(node).is_ok());
            own.cloned().collect()
        };
        let answer = match answer.or_else(|| all.as_ref().map(own)) {
            Some(answer) => answer,
            // What is too much at once need not be one by one.
            None => ask(nodes, Asking::Alone)?.unwrap_or_default(),
        };
        answers.push(answer);
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

/// Keeps a unit apart from those that look like it: what is asked of its nodes is asked for any order. Of nodes that
/// are asked for at once, each is kept apart.
fn apart(nodes: &[usize], asking: Asking) -> impl Fn(usize) -> String {
    move |node| match nodes.binary_search(&node) {
        Ok(_) if asking == Asking::AtOnce => format!("here {node}"),
        Ok(_) => "here".to_owned(),
        Err(_) => String::new(),
    }
}
