//! `at each pad of pads { … }`: the block is laid once for each point, which the name stands for in it.

use super::super::build::Ways;
use super::super::laying::{Laying, Level, Lines};
use crate::findings::names::{DoubledName, UnknownName};
use crate::world::at_point;
use crate::world::near::nearest;
use locknut_finding::Span;
use locknut_graph::{Outline, Prose, Words};
use locknut_syntax::tree::{Item, Name};
use std::collections::BTreeSet;

/// A block as written.
#[derive(Clone, Copy)]
pub(super) struct AtEach<'w> {
    pub(super) point: &'w Name,
    pub(super) of: &'w Name,
    pub(super) items: &'w [Item],
    pub(super) span: Span,
}

impl<'w> Laying<'w> {
    /// At one point after the other, in declared order.
    pub(super) fn at_each(
        &mut self,
        each: AtEach<'w>,
        level: Level,
        mut ways: Ways,
        out: &mut Lines,
    ) -> Ways {
        for point in self.points_of(each) {
            self.is_reached(&mut ways, each.span);
            ways = self.at_one(each, &point, level, ways, out);
        }
        ways
    }

    /// The points of the thing or reading; says so where it has none.
    pub(super) fn points_of(&mut self, each: AtEach<'w>) -> Vec<String> {
        let AtEach { point, of, .. } = each;
        let declared = self.model.variable_named.get(&point.text);
        let declared = declared.and_then(|id| self.model.variables.get(usize::from(id.0)));
        if let Some(first) = declared.map(|variable| variable.span) {
            let (what, again) = ("point".to_owned(), point.span);
            self.found.add(&DoubledName { what, name: point.text.clone(), first, again });
        }
        let of_reading = self.scope.readings.get(&of.text).map(|named| named.points.clone());
        let of_model = self.model.points.get(&of.text).or_else(|| self.model.placed.get(&of.text));
        let points = of_model.cloned().or(of_reading).unwrap_or_default();
        if points.is_empty() {
            let with_points = |named: &&str| {
                let reading = self.scope.readings.get(*named);
                reading.is_some_and(|named| !named.points.is_empty())
            };
            let readings = self.scope.readings.keys().map(String::as_str).filter(with_points);
            let of_model = self.model.points.keys().chain(self.model.placed.keys());
            let known = of_model.map(String::as_str).chain(readings);
            let near = nearest(&of.text, known);
            let is = self.model.has(&of.text)
                || self.model.made_of.contains(&of.text)
                || self.scope.readings.contains_key(&of.text);
            let else_is = is.then(|| "one thing at one place".to_owned());
            let wanted = "thing, assembly or reading at points";
            let (name, span) = (of.text.clone(), of.span);
            self.found.add(&UnknownName { wanted, name, span, near, else_is });
        }
        points
    }

    /// The block at one point. What it names is known inside of it alone.
    pub(super) fn at_one(
        &mut self,
        each: AtEach<'w>,
        point: &str,
        level: Level,
        ways: Ways,
        out: &mut Lines,
    ) -> Ways {
        let known = |names: Vec<&String>| names.into_iter().cloned().collect::<BTreeSet<String>>();
        let steps = known(self.scope.steps.keys().collect());
        let readings = known(self.scope.readings.keys().collect());
        let outer = self.scope.points.insert(each.point.text.clone(), point.to_owned());
        self.holds_in(each.span);
        let so_far = self.found.reports().len();
        let mut inner = Lines::new();
        let ways = self.items(each.items, level, ways, &mut inner);
        self.found.once_at_points(so_far, Some(point));
        match outer {
            Some(outer) => drop(self.scope.points.insert(each.point.text.clone(), outer)),
            None => drop(self.scope.points.remove(&each.point.text)),
        }
        self.scope.steps.retain(|name, _| steps.contains(name));
        let taken = self.scope.readings.keys().filter(|name| !readings.contains(*name));
        let taken: Vec<String> = taken.cloned().collect();
        for name in taken {
            self.scope.readings.remove(&name);
            self.scope.read_at_points.insert(name);
        }
        match level {
            Level::Steps => {
                let words = Words::of(&at_point(&each.of.text, point));
                let title = Prose::plain(capitalised(&words.said));
                out.push(Outline::Section { title, items: inner, span: each.span });
            }
            // The lines of a step say it themselves.
            Level::Lines => out.append(&mut inner),
        }
        ways
    }
}

fn capitalised(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}
