//! What a freed child looks like on a slice, so that those that are alike are counted.

use super::build::Building;
use super::layout::Slot;
use super::system::{Edge, Kept, Kind, Op, System};
use locknut_graph::{Condition, Test};
use std::collections::BTreeMap;

/// What a child looks like, and its nodes in that order.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Look {
    pub(super) marks: Vec<Mark>,
    pub(super) nodes: Vec<usize>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Mark {
    Node(usize, String),
    Kind(u8, u64),
    Asks(String),
    Op(Op),
    Leads(bool),
    Known(usize),
    Outside(usize),
}

impl Look {
    /// A child by the way into it.
    pub(super) fn of(building: &Building<'_>, system: &System<'_, '_>, into: &Edge) -> Self {
        let mut look = Self::default();
        let mut numbers = BTreeMap::new();
        look.marks.extend(into.ops.iter().copied().map(Mark::Op));
        look.walk(building, system, into.to, &mut numbers);
        look
    }

    fn walk(
        &mut self,
        building: &Building<'_>,
        system: &System<'_, '_>,
        from: Option<usize>,
        numbers: &mut BTreeMap<usize, usize>,
    ) {
        let mut open: Vec<usize> = from.into_iter().collect();
        while let Some(position) = open.pop() {
            let next = numbers.len();
            let number = *numbers.entry(position).or_insert(next);
            if number != next {
                self.marks.push(Mark::Known(number));
                continue;
            }
            let kept = &system.nodes[position];
            self.nodes.push(kept.node);
            self.marks.push(Mark::Node(next, (building.judges)(kept.node)));
            // Ends of the job are the same place for all.
            self.marks.push(match &kept.kind {
                Kind::Plain => Mark::Kind(0, 0),
                Kind::Branch(_) | Kind::Await(_) => Mark::Asks(
                    system.index.kind(kept.node).asks().map(condition_key).unwrap_or_default(),
                ),
                Kind::Repeat(_, times) => Mark::Kind(1, *times),
                Kind::Order { stuck, .. } => Mark::Kind(2, u64::from(*stuck)),
                Kind::ChildDone { .. } => Mark::Kind(3, 0),
                Kind::Together { .. } | Kind::LaneDone => {
                    Mark::Kind(4, u64::try_from(kept.node).unwrap_or(0))
                }
                Kind::End => Mark::Kind(5, 0),
            });
            if let Kind::Order { classes, .. } = &kept.kind {
                for class in classes {
                    self.marks.push(Mark::Kind(6, u64::try_from(class.members.len()).unwrap_or(0)));
                    if let Some(edge) =
                        class.members.first().and_then(|member| kept.edges.get(*member))
                    {
                        self.marks.extend(edge.ops.iter().copied().map(Mark::Op));
                        self.walk(building, system, edge.to, numbers);
                    }
                }
            }
            for edge in kept.onward() {
                let own = |op: &Op| match op {
                    // Rounds and counts are a child's own.
                    Op::Put(slot, _) => {
                        !building.repeats.values().any(|of| of == slot) && !is_count(kept, *slot)
                    }
                    Op::Round(_) => false,
                    Op::Wait(..)
                    | Op::Mark { .. }
                    | Op::Since { .. }
                    | Op::Pick(..)
                    | Op::Find { .. } => true,
                };
                self.marks.extend(edge.ops.iter().filter(|op| own(op)).copied().map(Mark::Op));
                self.marks.push(Mark::Leads(edge.to.is_some()));
                if edge.leaves {
                    // Outside of the block nothing is a child's own.
                    self.marks.extend(edge.to.map(|to| Mark::Outside(system.nodes[to].node)));
                    continue;
                }
                open.extend(edge.to);
            }
        }
    }
}

fn is_count(kept: &Kept, slot: Slot) -> bool {
    matches!(&kept.kind, Kind::Order { classes, .. } if classes.iter().any(|class| class.done == slot))
}

/// A condition told so that equal ones are equal wherever they are written.
pub(crate) fn condition_key(condition: &Condition) -> String {
    let all = |name: &str, parts: &[Condition]| {
        let parts: Vec<String> = parts.iter().map(condition_key).collect();
        format!("{name}({})", parts.join(","))
    };
    match condition {
        Condition::Always(so) => so.to_string(),
        Condition::Not(inner) => format!("not({})", condition_key(inner)),
        Condition::All(parts) => all("all", parts),
        Condition::Any(parts) => all("any", parts),
        Condition::Test(Test::Is { variable, values, .. }) => {
            format!("is {} {values:?}", variable.0)
        }
        Condition::Test(Test::Proved { variable, values, .. }) => {
            format!("proved {} {values:?}", variable.0)
        }
        Condition::Test(Test::Held { variable, values, seconds, under, .. }) => {
            format!("held {} {values:?} {seconds} {under}", variable.0)
        }
        Condition::Test(Test::Within { value, limit, .. }) => {
            format!("within {value:?} {:?}", limit.range)
        }
    }
}
