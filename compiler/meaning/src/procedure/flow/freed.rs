//! `any order { … }`: children that may be done in any order, each as a whole.

use super::super::build::Ways;
use super::super::laying::{Laying, Level, Lines};
use super::does_something;
use crate::findings::flow::NothingFreed;
use locknut_finding::Span;
use locknut_graph::{NodeKind, Outline, Way};
use locknut_syntax::tree::Item;

impl<'w> Laying<'w> {
    pub(super) fn any_order(
        &mut self,
        items: &'w [Item],
        span: Span,
        level: Level,
        ways: Ways,
        out: &mut Lines,
    ) -> Ways {
        let children = items.iter().filter(|item| does_something(item)).count();
        if children < 2 {
            self.found.add(&NothingFreed { span, children });
        }
        let order = self.build.place(NodeKind::AnyOrder { children }, Vec::new(), span, ways);
        let mut inner = Lines::new();
        let mut closed = Vec::new();
        let mut all_end = true;
        let mut next = 0u16..;
        for item in items {
            if !does_something(item) {
                self.item(item, level, Ways::default(), &mut inner);
                continue;
            }
            let Some(child) = next.next() else { break };
            self.here.enter_child();
            let ways = self.item(item, level, Ways::out(order, Way::Child(child)), &mut inner);
            closed.push(self.here.leave());
            all_end &= !ways.none_left();
            if !ways.none_left() {
                self.build.place(NodeKind::ChildDone { order }, Vec::new(), span, ways);
            }
        }
        out.push(Outline::AnyOrder { node: order, items: inner });
        if !all_end {
            // A child that always ends the job never lets the block come to its end.
            return Ways::default();
        }
        for child in closed {
            self.here.is_certain(child);
        }
        Ways::out(order, Way::Next)
    }
}
