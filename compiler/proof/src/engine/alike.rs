//! Freed children that look alike on a slice.

use super::Slice;
use locknut_graph::{NodeId, NodeKind, StepGraph, Way};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

/// For each freed block, what each child looks like on the slice: none where nothing of it is seen.
#[derive(Clone, Debug, Default)]
pub(crate) struct Alike {
    looks: BTreeMap<NodeId, Vec<Option<String>>>,
}

impl Alike {
    /// `places` are nodes at which some property is judged; they are seen.
    pub(crate) fn of(graph: &StepGraph, slice: &Slice, places: &BTreeSet<NodeId>) -> Self {
        let orders = graph.flow.node_indices().filter_map(|id| match graph.node(id).kind {
            NodeKind::AnyOrder { children } => Some((id, children)),
            NodeKind::Act(_)
            | NodeKind::Pass
            | NodeKind::Branch(_)
            | NodeKind::ChildDone { .. }
            | NodeKind::Repeat(_)
            | NodeKind::Enter { .. }
            | NodeKind::Leave { .. }
            | NodeKind::End(_) => None,
        });
        let looks = orders
            .map(|(order, children)| {
                let looks =
                    (0..children).map(|child| look(graph, slice, places, order, child)).collect();
                (order, looks)
            })
            .collect();
        Self { looks }
    }

    /// Whether nothing of a child is seen.
    pub(crate) fn unseen(&self, order: NodeId, child: u16) -> bool {
        self.look(order, child).is_none()
    }

    /// Whether an earlier child that is not done looks the same: then that one is tried first.
    pub(crate) fn behind(&self, order: NodeId, child: u16, done: &[bool]) -> bool {
        let own = self.look(order, child);
        let earlier = 0..child;
        earlier
            .filter(|other| done.get(usize::from(*other)) == Some(&false))
            .any(|other| self.look(order, other) == own)
    }

    fn look(&self, order: NodeId, child: u16) -> Option<&String> {
        self.looks.get(&order)?.get(usize::from(child))?.as_ref()
    }
}

/// The child's part of the graph told in the order of a walk, with all that is seen in it.
fn look(
    graph: &StepGraph,
    slice: &Slice,
    places: &BTreeSet<NodeId>,
    order: NodeId,
    child: usize,
) -> Option<String> {
    let way = Way::Child(u16::try_from(child).ok()?);
    let (edge, first) = graph.follow(order, way)?;
    let mut numbers = BTreeMap::new();
    let mut open = vec![first];
    let mut text = String::new();
    let mut seen = edge.effects.iter().any(|effect| slice.sees(effect));
    while let Some(node) = open.pop() {
        let next = numbers.len();
        if numbers.contains_key(&node) {
            continue;
        }
        numbers.insert(node, next);
        let here = graph.node(node);
        let kind = match &here.kind {
            NodeKind::Branch(condition) if slice.decides(condition) => {
                format!("branch {condition:?}")
            }
            NodeKind::Branch(_) => "branch".into(),
            NodeKind::Repeat(id) => format!("repeat {}", id.0),
            NodeKind::End(_) => format!("end {}", node.index()),
            NodeKind::ChildDone { .. } => "done".into(),
            NodeKind::AnyOrder { .. } => format!("order {}", node.index()),
            NodeKind::Act(_) | NodeKind::Pass | NodeKind::Enter { .. } | NodeKind::Leave { .. } => {
                "pass".into()
            }
        };
        let visible = places.contains(&node) || slice.sees_node(graph, node);
        seen |= visible;
        // A node at which a property is judged is only like itself.
        let mark =
            if places.contains(&node) { format!("place {}", node.index()) } else { String::new() };
        let effects: Vec<_> = here.effects.iter().filter(|effect| slice.sees(effect)).collect();
        // INVARIANT: a String takes whatever is written.
        let written = write!(text, "{next}:{kind} {mark} {effects:?};");
        debug_assert!(written.is_ok(), "a String takes whatever is written");
        for (way, edge, to) in graph.ways(node).into_iter().rev() {
            let effects: Vec<_> = edge.effects.iter().filter(|effect| slice.sees(effect)).collect();
            let known = numbers.get(&to).map_or_else(String::new, usize::to_string);
            let written = write!(text, "{way:?}{known}{effects:?},");
            debug_assert!(written.is_ok(), "a String takes whatever is written");
            open.push(to);
        }
    }
    seen.then_some(text)
}
