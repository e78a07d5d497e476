//! Items in written order: sections, steps, and whatever stands in them.

mod at_each;
mod branch;
mod call;
mod freed;
mod outcome;
mod step;
mod together;

pub(super) use call::{Called, MOST_CALLS_DEEP};
pub(super) use step::HeadSays;

use super::build::Ways;
use super::laying::{Laying, Level, Lines, Stretch};
use crate::findings::flow::{AtTheEndMisplaced, NeverReached, TooLarge};
use at_each::AtEach;
use locknut_finding::Span;
use locknut_graph::{Outline, Prose};
use locknut_syntax::tree::Item;

/// Blocks stand in each other at most so deep, those of called subtasks counted.
const MOST_DEEP: usize = 100;

impl<'w> Laying<'w> {
    /// Lays items one after the other; the ways that lead on behind the last.
    pub(super) fn items(
        &mut self,
        items: &'w [Item],
        level: Level,
        mut ways: Ways,
        out: &mut Lines,
    ) -> Ways {
        self.deep += 1;
        if self.deep > MOST_DEEP && !items.is_empty() {
            self.too_deep(items);
            ways.tell();
            self.deep -= 1;
            return ways;
        }
        for item in items {
            if self.build.full {
                break;
            }
            if does_something(item) {
                self.is_reached(&mut ways, head(item));
            }
            ways = self.item(item, level, ways, out);
        }
        self.deep -= 1;
        ways
    }

    fn too_deep(&mut self, items: &[Item]) {
        if let Some(first) = items.first() {
            self.found.add(&TooLarge::blocks_too_deep(head(first), MOST_DEEP));
        }
    }

    pub(super) fn item(
        &mut self,
        item: &'w Item,
        level: Level,
        ways: Ways,
        out: &mut Lines,
    ) -> Ways {
        match item {
            Item::Section { title, items, span } => {
                let title = self.prose(title);
                let mut inner = Lines::new();
                let ways = self.items(items, level, ways, &mut inner);
                out.push(Outline::Section { title, items: inner, span: *span });
                ways
            }
            Item::Step(step) => self.step(step, ways, out),
            Item::Act(act) => self.act(act, level, ways, out),
            Item::AnyOrder { items, span } => self.any_order(items, *span, level, ways, out),
            Item::Together { lanes, strays, span } => {
                self.together(lanes, strays, *span, level, ways, out)
            }
            Item::Unbroken { items, span } => {
                self.unbroken.push(*span);
                self.unbroken_laid.push(*span);
                let mut inner = Lines::new();
                let ways = self.items(items, level, ways, &mut inner);
                self.unbroken.pop();
                out.push(Outline::Unbroken { items: inner });
                ways
            }
            Item::AtEach { point, of, items, span } => {
                self.at_each(AtEach { point, of, items, span: *span }, level, ways, out)
            }
            Item::Group { items, .. } => {
                let mut inner = Lines::new();
                let ways = self.items(items, level, ways, &mut inner);
                out.push(Outline::Group { items: inner });
                ways
            }
            Item::When { condition, items, otherwise, span } => {
                self.when(condition, [items, otherwise], *span, level, ways, out)
            }
            Item::AtTheEnd { span, .. } => {
                self.collect_for_the_end(item, *span, level);
                ways
            }
        }
    }

    /// Says so, once, where no way leads to a line.
    pub(super) fn is_reached(&mut self, ways: &mut Ways, line: Span) {
        if ways.must_be_told() {
            self.found.add(&NeverReached { line, end: self.last_end });
            ways.tell();
        }
    }

    fn collect_for_the_end(&mut self, item: &'w Item, span: Span, level: Level) {
        let in_place = level == Level::Steps && !self.here.is_inside_anything();
        if in_place && self.stretch == Stretch::Procedure {
            self.at_the_end.push(item);
        } else {
            self.found
                .add(&AtTheEndMisplaced { span, in_subtask: self.stretch == Stretch::Subtask });
        }
    }

    /// What is done once before *done*, and never after a stop.
    pub(super) fn at_the_end(&mut self, mut ways: Ways, out: &mut Lines) -> Ways {
        let done_before = std::mem::take(&mut self.to_done);
        if !done_before.none_left() {
            self.unsettle();
        }
        ways.join(done_before);
        self.stretch = Stretch::AtTheEnd;
        let mut inner = Lines::new();
        for item in std::mem::take(&mut self.at_the_end) {
            if let Item::AtTheEnd { items, .. } = item {
                ways = self.items(items, Level::Steps, ways, &mut inner);
            }
        }
        if !inner.is_empty() {
            out.push(Outline::AtTheEnd { items: inner });
        }
        ways.join(std::mem::take(&mut self.to_done));
        ways
    }

    /// Prose of a title, or the name where there is none.
    pub(super) fn title_or_name(
        &mut self,
        title: Option<&locknut_syntax::tree::Text>,
        name: &str,
    ) -> Prose {
        match title {
            Some(title) => self.prose(title),
            None => Prose::plain(locknut_graph::Words::of(name).said),
        }
    }
}

/// The place by which messages mean an item: its head rather than all of its lines.
fn head(item: &Item) -> Span {
    match item {
        Item::Section { title, .. } => title.span,
        Item::Step(step) => step.head,
        Item::Act(act) => act.span,
        Item::When { condition, .. } => condition.span(),
        Item::AnyOrder { span, .. }
        | Item::Together { span, .. }
        | Item::Unbroken { span, .. }
        | Item::AtEach { span, .. }
        | Item::Group { span, .. }
        | Item::AtTheEnd { span, .. } => *span,
    }
}

/// Remarks and what is kept for the end need no way that leads to them.
fn does_something(item: &Item) -> bool {
    match item {
        Item::Act(act) => !super::acts::is_remark(act),
        Item::AtTheEnd { .. } => false,
        Item::Section { .. }
        | Item::Step(_)
        | Item::AnyOrder { .. }
        | Item::Together { .. }
        | Item::Unbroken { .. }
        | Item::AtEach { .. }
        | Item::Group { .. }
        | Item::When { .. } => true,
    }
}
