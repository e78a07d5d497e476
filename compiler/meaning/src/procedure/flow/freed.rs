//! `any order { … }`: children that may be done in any order, each as a whole.

use super::super::build::Ways;
use super::super::laying::{Laying, Level, Lines};
use super::at_each::AtEach;
use super::does_something;
use crate::findings::flow::NothingFreed;
use locknut_finding::Span;
use locknut_graph::{NodeKind, Outline, Way};
use locknut_syntax::tree::Item;

/// What is done as a whole.
enum Child<'w> {
    Item(&'w Item),
    /// A block that is done at each point, at one of them.
    AtOne(AtEach<'w>, String),
}

impl Child<'_> {
    fn does_something(&self) -> bool {
        match self {
            Self::Item(item) => does_something(item),
            Self::AtOne(..) => true,
        }
    }
}

impl<'w> Laying<'w> {
    fn children(&mut self, items: &'w [Item]) -> Vec<Child<'w>> {
        let mut children = Vec::new();
        for item in items {
            if let Item::AtEach { point, of, items, span } = item {
                let each = AtEach { point, of, items, span: *span };
                let points = self.points_of(each).into_iter();
                children.extend(points.map(|point| Child::AtOne(each, point)));
            } else {
                children.push(Child::Item(item));
            }
        }
        children
    }

    fn child(&mut self, child: Child<'w>, level: Level, ways: Ways, out: &mut Lines) -> Ways {
        match child {
            Child::Item(item) => self.item(item, level, ways, out),
            Child::AtOne(each, point) => self.at_one(each, &point, level, ways, out),
        }
    }

    /// The same, so that a fitter sees what is one piece: of several steps none may be put off for another child.
    fn whole(&mut self, child: Child<'w>, level: Level, ways: Ways, out: &mut Lines) -> Ways {
        let mut inner = Lines::new();
        let ways = self.child(child, level, ways, &mut inner);
        if is_several(&inner) {
            out.push(Outline::Group { items: inner });
        } else {
            out.append(&mut inner);
        }
        ways
    }

    pub(super) fn any_order(
        &mut self,
        items: &'w [Item],
        span: Span,
        level: Level,
        ways: Ways,
        out: &mut Lines,
    ) -> Ways {
        let children = self.children(items);
        let count = children.iter().filter(|child| child.does_something()).count();
        let (items, children) = (children, count);
        if children < 2 {
            self.found.add(&NothingFreed { span, children });
        }
        let order = self.build.place(NodeKind::AnyOrder { children }, Vec::new(), span, ways);
        let mut inner = Lines::new();
        let mut closed = Vec::new();
        let mut all_end = true;
        let mut next = 0u16..;
        for item in items {
            if !item.does_something() {
                self.child(item, level, Ways::default(), &mut inner);
                continue;
            }
            let Some(child) = next.next() else { break };
            self.enter_child();
            let ways = Ways::out(order, Way::Child(child));
            let ways = self.whole(item, level, ways, &mut inner);
            closed.push(self.leave());
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
            self.is_certain(&child);
        }
        Ways::out(order, Way::Next)
    }
}

/// Whether these are several steps or lines, under one title or none.
fn is_several(lines: &[Outline]) -> bool {
    match lines {
        [Outline::Section { items, .. }] => items.len() > 1,
        more => more.len() > 1,
    }
}
