//! Which limits and values the dimensions of a template come from, and which of them it shows.
//!
//! A name that stands in a dimension says nothing yet: `bl - bl` is nothing whatever `bl` is. So each figure is moved a
//! little to both sides, and a dimension comes from it if it is another one each time.

use super::super::limits::gather;
use crate::world::limits::Home;
use crate::world::read::{NoReadings, Reader};
use crate::world::{NamedLimit, World};
use locknut_finding::Findings;
use locknut_graph::{CutForm, Template, TemplateOutline, Words};
use locknut_quantity::Exact;
use locknut_syntax::tree::{self, Expression, TemplateLine};
use std::collections::BTreeSet;

/// By which part of its base unit a figure is moved, down and up: primes, so that no formula of a workshop gives the
/// same on both sides.
const MOVES: [i32; 2] = [-1_000_003, 999_983];

/// A world in which single figures are moved; a copy is made only where some dimension has a name.
pub(super) struct Moved<'w> {
    world: &'w World,
    copy: Option<World>,
}

impl<'w> Moved<'w> {
    pub(super) fn of(world: &'w World) -> Self {
        Self { world, copy: None }
    }

    /// Figures that dimensions of its edge and of its cuts come from, in the order in which their names first stand
    /// there. What names stand in a wall or beside words is not cut out.
    pub(super) fn tied(&mut self, written: &tree::Template) -> Vec<Words> {
        let mut tied: Vec<Words> = Vec::new();
        let lines = written.lines.iter();
        let cut = lines
            .filter(|line| !matches!(line, TemplateLine::Label { .. } | TemplateLine::Wall { .. }));
        for dimension in cut.flat_map(TemplateLine::dimensions) {
            let mut names = Vec::new();
            gather(dimension, &mut names);
            for name in names {
                let words = Words::of(name);
                if !tied.contains(&words) && self.comes_from(dimension, name) {
                    tied.push(words);
                }
            }
        }
        tied
    }

    /// Those among them that the template shows: two edges of it lie so far apart, or a hole or the disc is so wide, from
    /// edge to edge or from its middle, whatever the figure is.
    pub(super) fn shown(&mut self, written: &tree::Template, tied: &[Words]) -> Vec<String> {
        let names = tied.iter().map(|words| words.name.as_str());
        names.filter(|name| self.shows(written, name)).map(str::to_owned).collect()
    }

    fn shows(&mut self, written: &tree::Template, name: &str) -> bool {
        let Some(limit) = self.world.limits.get(name) else { return false };
        let shown = |world: &World, limit: &NamedLimit| {
            let reader = Reader { world, model: None, readings: &NoReadings };
            let template = super::template(written, reader, &mut Findings::default());
            template.map(|template| has_distance(&template, limit))
        };
        if shown(self.world, limit) != Some(true) {
            return false;
        }
        let copy = self.copy.get_or_insert_with(|| self.world.clone());
        let mut moves = Vec::new();
        for part in MOVES {
            let moved = moved(limit, part);
            copy.keep(name, Some(moved.clone()));
            // A figure at the end of a table can be moved to one side only.
            moves.extend(shown(copy, &moved));
        }
        copy.keep(name, Some(limit.clone()));
        !moves.is_empty() && moves.iter().all(|shown| *shown)
    }

    fn comes_from(&mut self, dimension: &Expression, name: &str) -> bool {
        let Some(limit) = self.world.limits.get(name) else { return false };
        let copy = self.copy.get_or_insert_with(|| self.world.clone());
        let mut seen: Vec<Exact> = value(copy, dimension).into_iter().collect();
        let mut moves = 0;
        for part in MOVES {
            copy.keep(name, Some(moved(limit, part)));
            // A figure at the end of a table can be moved to one side only.
            let Some(value) = value(copy, dimension) else { continue };
            if seen.contains(&value) {
                moves = 0;
                break;
            }
            seen.push(value);
            moves += 1;
        }
        copy.keep(name, Some(limit.clone()));
        moves > 0
    }
}

fn moved(limit: &NamedLimit, part: i32) -> NamedLimit {
    let mut moved = limit.clone();
    let range = &mut moved.limit.range;
    for end in range.lower.iter_mut().chain(&mut range.upper) {
        end.value += Exact::new(1.into(), part.into());
    }
    moved
}

/// Whether something is held against the limit here: across or up, from edge to edge.
fn has_distance(template: &Template, limit: &NamedLimit) -> bool {
    let range = &limit.limit.range;
    let Some(end) = range.lower.as_ref().or(range.upper.as_ref()) else { return false };
    let mut edges = template.size().map(|side| BTreeSet::from([Exact::default(), side]));
    let mut radii = Vec::new();
    if let TemplateOutline::Disc { diameter } = &template.outline {
        radii.push(&diameter.value / Exact::from_integer(2.into()));
    }
    for cut in template.cuts() {
        let (from, to) = match cut.form {
            CutForm::Square { from, to } => (from, to),
            CutForm::Round { right, up, radius } => {
                let sides = ([&right - &radius, &up - &radius], [right + &radius, up + &radius]);
                radii.push(radius);
                sides
            }
        };
        for (edges, sides) in edges.iter_mut().zip(from.into_iter().zip(to)) {
            edges.extend([sides.0, sides.1]);
        }
    }
    let far =
        |edges: &BTreeSet<Exact>| edges.iter().any(|edge| edges.contains(&(edge + &end.value)));
    edges.iter().any(far) || radii.contains(&end.value)
}

/// What a dimension comes to: it has been read before, so what is wrong with it has been said.
fn value(world: &World, dimension: &Expression) -> Option<Exact> {
    let (reader, mut quiet) = (world.reader(), Findings::default());
    let mut kinds = ["length", "angle"].into_iter().map(|kind| world.units.kind_named(kind));
    kinds.find_map(|kind| Some(reader.value(dimension, kind, &mut quiet)?.value))
}
