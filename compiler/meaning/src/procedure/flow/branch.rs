//! `when COND { … } otherwise { … }`.

use super::super::build::Ways;
use super::super::laying::{Laying, Level, Lines};
use crate::findings::readings::Behind;
use locknut_finding::Span;
use locknut_graph::{Condition, NeverTaken, NodeId, NodeKind, Outline, OutlineArm, ReadingId, Way};
use locknut_syntax::tree::{self, Item};

impl<'w> Laying<'w> {
    pub(super) fn when(
        &mut self,
        condition: &tree::Condition,
        arms: [&'w Vec<Item>; 2],
        span: Span,
        level: Level,
        ways: Ways,
        out: &mut Lines,
    ) -> Ways {
        let asked = condition.span();
        // What cannot be read was told; its lines are read all the same.
        let condition = self.condition(condition).unwrap_or(Condition::Always(true));
        let branch = NodeKind::Branch(condition.clone());
        let node = self.build.place(branch, Vec::new(), span, ways);
        let fork = self.here.fork();
        let mut onward = Ways::default();
        let mut outline = Vec::new();
        let mut going_on = Vec::new();
        for (position, items) in (0u16..).zip(arms) {
            let way = Way::Arm(position);
            let mut inner = Lines::new();
            let never = self.never(&condition, position == 0);
            if let Some(reading) = never {
                self.never_taken(node, way, asked, reading);
            }
            let behind = match (position, items.is_empty()) {
                (0, _) => Behind::Holds,
                (_, false) => Behind::Otherwise,
                (_, true) => Behind::Nothing,
            };
            if position != 0 || !items.is_empty() {
                self.tell_never(&condition, behind, level, never);
            }
            self.enter_when(fork, &condition, position == 0);
            self.settle_when(&condition, position == 0, asked);
            let ways = self.items(items, level, Ways::out(node, way), &mut inner);
            let arm = self.leave();
            if !ways.none_left() {
                going_on.push(arm);
            }
            onward.join(ways);
            if position == 0 || !items.is_empty() {
                outline.push(OutlineArm { way, items: inner });
            }
        }
        if let [only] = going_on.as_slice() {
            self.is_certain(only);
        }
        out.push(Outline::Branch { node, arms: outline });
        onward
    }

    /// Keeps why an arm is never taken.
    fn never_taken(&mut self, branch: NodeId, way: Way, asked: Span, reading: ReadingId) {
        let name = self.build.readings.get(usize::from(reading.0)).map(|of| of.words.said.clone());
        if let (Some(reading), Some((can_be, settled))) = (name, self.can_be(reading)) {
            self.build.never.push(NeverTaken { branch, way, asked, reading, can_be, settled });
        }
    }
}
