//! `template wear-card { rectangle 280 mm x 30 mm … }`: read once limits are there, so that a dimension can
//! be one of them.

mod geometry;
mod tied;

pub use geometry::{NoRoom, labels_without_room};

use super::World;
use super::names::Names;
use super::read::{NoReadings, Reader};
use crate::findings::names::{BracesInComment, TooMany, listed};
use crate::findings::templates::{TemplateFault, TemplateUnfit};
use locknut_finding::{Findings, Span};
use locknut_graph::{
    Feature, FeatureShape, Prose, Template, TemplateLabel, TemplateOutline, TemplateSide, Words,
};
use locknut_quantity::Quantity;
use locknut_syntax::tree::{self, Expression, Name, TemplateLine};
use num_traits::Signed;
use std::collections::BTreeMap;
use std::sync::Arc;
use tied::Moved;

/// A pitch circle has at most so many holes, and a template so many lines.
const MOST: usize = 100;
/// And so many cuts in all: each is held against each.
const MOST_CUTS: usize = 400;
const SIDES: &[(&str, TemplateSide)] = &[
    ("top", TemplateSide::Top),
    ("bottom", TemplateSide::Bottom),
    ("left", TemplateSide::Left),
    ("right", TemplateSide::Right),
];

/// Reads all templates; one that does not fit has a finding, and stays quiet where it is used.
pub(super) fn templates(lines: &[&tree::Template], world: &mut World, found: &mut Findings) {
    let (mut templates, mut broken) = (BTreeMap::new(), Vec::new());
    let mut shown = BTreeMap::new();
    let mut moved = Moved::of(world);
    for line in lines {
        let reader = Reader { world, model: None, readings: &NoReadings };
        let read = template(line, reader, found).filter(|_| !line.broken);
        match read.filter(|template| few_cuts(template, found)) {
            Some(read) => {
                geometry::check(&read, reader.units(), found);
                let tied = moved.tied(line);
                drop(shown.insert(line.name.text.clone(), moved.shown(line, &tied)));
                let template = Template { tied, ..read };
                drop(templates.insert(line.name.text.clone(), Arc::new(template)));
            }
            None => broken.push(line.name.text.clone()),
        }
    }
    world.broken.extend(broken);
    world.templates = templates;
    world.shown = shown;
}

fn few_cuts(template: &Template, found: &mut Findings) -> bool {
    let few = template.cuts().len() <= MOST_CUTS;
    if !few {
        let (what, span) = ("holes and notches in one template", template.span);
        found.add(&TooMany { what, most: MOST_CUTS, span });
    }
    few
}

/// What has been read of a template so far.
struct Reading<'a, 'f> {
    written: &'a tree::Template,
    reader: Reader<'a>,
    found: &'f mut Findings,
    fits: bool,
}

fn template(
    written: &tree::Template,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<Template> {
    if let Some(line) = written.lines.get(MOST) {
        found.add(&TooMany { what: "lines of one template", most: MOST, span: line.span() });
        return None;
    }
    let mut reading = Reading { written, reader, found, fits: true };
    let Name { text, span } = &written.name;
    BracesInComment::told(written.doc.as_ref(), text, *span, reading.found);
    let mut once = Names::default();
    let (mut outline, mut wall) = (None, None);
    let (mut features, mut labels) = (Vec::new(), Vec::new());
    for line in &written.lines {
        let span = line.span();
        match line {
            TemplateLine::Rectangle { .. } | TemplateLine::Disc { .. } => {
                let what = format!("the outline of {}", written.name.text);
                reading.fits &= once.once(what, span, reading.found);
                outline = outline.or_else(|| reading.outline(line));
            }
            TemplateLine::Wall { least, .. } => {
                let what = format!("the least wall of {}", written.name.text);
                reading.fits &= once.once(what, span, reading.found);
                wall = reading.size(least);
            }
            TemplateLine::Label { text, place, .. } => {
                let place = reading.place(place);
                let text = reader.prose(text, reading.found);
                reading.says_something(&text);
                labels.extend(place.map(|place| TemplateLabel { text, place, span }));
            }
            TemplateLine::Notch { .. } | TemplateLine::Hole { .. } | TemplateLine::Holes { .. } => {
                let shape = reading.feature(line);
                features.extend(shape.map(|shape| Feature { shape, span }));
            }
        }
    }
    if !reading.has_outline(outline.as_ref()) {
        return None;
    }
    reading.fits.then_some(Template {
        words: Words::of(&written.name.text),
        purpose: written.doc.clone(),
        outline: outline?,
        features,
        labels,
        wall,
        tied: Vec::new(),
        span: written.name.span,
    })
}

impl Reading<'_, '_> {
    fn unfit(&mut self, place: Span, fault: TemplateFault) {
        self.fits = false;
        self.found.add(&TemplateUnfit { template: self.written.name.text.clone(), place, fault });
    }

    fn kept<T>(&mut self, read: Option<T>) -> Option<T> {
        self.fits &= read.is_some();
        read
    }

    /// Where a line could not be read, it may be the outline.
    fn has_outline(&mut self, outline: Option<&TemplateOutline>) -> bool {
        let said =
            self.written.lines.iter().any(|line| {
                matches!(line, TemplateLine::Rectangle { .. } | TemplateLine::Disc { .. })
            });
        if !said && !self.written.broken {
            self.unfit(self.written.name.span, TemplateFault::NoOutline);
        }
        outline.is_some()
    }

    fn outline(&mut self, line: &TemplateLine) -> Option<TemplateOutline> {
        if let TemplateLine::Disc { diameter, .. } = line {
            return Some(TemplateOutline::Disc { diameter: self.size(diameter)? });
        }
        let TemplateLine::Rectangle { width, height, .. } = line else { return None };
        let (width, height) = (self.size(width), self.size(height));
        Some(TemplateOutline::Rectangle { width: width?, height: height? })
    }

    fn feature(&mut self, line: &TemplateLine) -> Option<FeatureShape> {
        match line {
            TemplateLine::Notch { side, at, width, depth, .. } => {
                let side = self.side(side);
                let (at, width, depth) = (self.length(at), self.size(width), self.size(depth));
                Some(FeatureShape::Notch { side: side?, at: at?, width: width?, depth: depth? })
            }
            TemplateLine::Hole { diameter, place, .. } => {
                let (diameter, place) = (self.size(diameter), self.if_said(place.as_deref()));
                Some(FeatureShape::Hole { diameter: diameter?, place: place? })
            }
            TemplateLine::Holes { count, diameter, circle, place, first, .. } => {
                let count = self.count(count);
                let (diameter, circle) = (self.size(diameter), self.size(circle));
                let place = self.if_said(place.as_deref());
                let first = match first {
                    Some(first) => Some(Some(self.angle(first)?)),
                    None => Some(None),
                };
                Some(FeatureShape::Holes {
                    count: count?,
                    diameter: diameter?,
                    circle: circle?,
                    place: place?,
                    first: first?,
                })
            }
            TemplateLine::Rectangle { .. }
            | TemplateLine::Disc { .. }
            | TemplateLine::Label { .. }
            | TemplateLine::Wall { .. } => None,
        }
    }

    fn side(&mut self, side: &tree::Name) -> Option<TemplateSide> {
        let disc = |line: &&TemplateLine| matches!(line, TemplateLine::Disc { .. });
        if let Some(disc) = self.written.lines.iter().find(disc) {
            self.unfit(side.span, TemplateFault::NoSide { outline: disc.span() });
            return None;
        }
        let known = SIDES.iter().find(|(name, _)| *name == side.text).map(|(_, side)| *side);
        if known.is_none() {
            let names: Vec<&str> = SIDES.iter().map(|(name, _)| *name).collect();
            let fault =
                TemplateFault::UnknownSide { side: side.text.clone(), sides: listed(&names, "or") };
            self.unfit(side.span, fault);
        }
        known
    }

    fn count(&mut self, count: &tree::Number) -> Option<u16> {
        let most = u16::try_from(MOST).unwrap_or(u16::MAX);
        let read = count.text.parse::<u16>().ok().filter(|count| (2..=most).contains(count));
        if read.is_none() {
            self.unfit(count.span, TemplateFault::Count { written: count.text.clone(), most });
        }
        read
    }

    fn place(&mut self, place: &tree::Place) -> Option<[Quantity; 2]> {
        let (right, up) = (self.length(&place.right), self.length(&place.up));
        Some([right?, up?])
    }

    fn says_something(&mut self, text: &Prose) {
        if text.written().trim().is_empty() {
            self.unfit(text.span, TemplateFault::NoWords);
        }
    }

    /// A place that may be left out; none where it cannot be read.
    #[expect(clippy::option_option, reason = "what is not said, and what cannot be read")]
    fn if_said(&mut self, place: Option<&tree::Place>) -> Option<Option<[Quantity; 2]>> {
        match place {
            Some(place) => self.place(place).map(Some),
            None => Some(None),
        }
    }

    fn length(&mut self, written: &Expression) -> Option<Quantity> {
        let kind = self.reader.units().kind_named("length");
        let read = self.reader.value(written, kind, self.found);
        self.kept(read)
    }

    fn angle(&mut self, written: &Expression) -> Option<Quantity> {
        let kind = self.reader.units().kind_named("angle");
        let read = self.reader.value(written, kind, self.found);
        self.kept(read)
    }

    /// A length that is more than nothing.
    fn size(&mut self, written: &Expression) -> Option<Quantity> {
        let size = self.length(written)?;
        if !size.value.is_positive() {
            self.unfit(written.span(), TemplateFault::NoSize { written: size.written });
            return None;
        }
        Some(size)
    }
}
