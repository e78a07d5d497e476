//! Names: what they are, how they are said, and what they might have been meant to be.

use super::Reader;
use crate::findings::names::{NoSuchPoint, UnknownName};
use crate::findings::quantities::ImpossibleValue;
use crate::world::NamedLimit;
use crate::world::near::nearest;
use locknut_finding::{Findings, Span};
use locknut_graph::{VariableKind, Words};
use locknut_syntax::tree;
use std::ops::Range;

impl Reader<'_> {
    /// A named value or limit of the model, else of the library.
    pub(crate) fn named_limit(&self, name: &str) -> Option<&NamedLimit> {
        let of_model = self.model.and_then(|model| model.limits.get(name));
        of_model.or_else(|| self.world.limits.get(name))
    }

    /// How a declared thing, state, tool, consumable or reading is said.
    pub(crate) fn words(&self, name: &str) -> Words {
        self.known_words(name).unwrap_or_else(|| Words::of(name))
    }

    /// The same, where anything declares the name.
    pub(crate) fn known_words(&self, name: &str) -> Option<Words> {
        let model = self.model;
        let variable = model.and_then(|model| {
            let id = model.variable_named.get(name)?;
            model.variables.get(usize::from(id.0)).map(|variable| variable.words.clone())
        });
        let thing =
            || model.and_then(|model| model.things.get(name)).map(|thing| thing.words.clone());
        let at_points = || model?.points.contains_key(name).then(|| Words::of(name));
        variable.or_else(thing).or_else(at_points).or_else(|| self.workshop_words(name))
    }

    fn workshop_words(&self, name: &str) -> Option<Words> {
        let world = self.world;
        let instrument = world.instruments.get(name).map(|instrument| &instrument.words);
        let tool = || world.tools.get(name).map(|tool| &tool.words);
        let consumable = || world.consumables.get(name).map(|consumable| &consumable.words);
        let table = || world.tables.get(name).map(|table| &table.words);
        instrument.or_else(tool).or_else(consumable).or_else(table).cloned()
    }

    /// What a name is declared as, for messages: `a state`, `an instrument`.
    pub(crate) fn what_is(&self, name: &str) -> Option<String> {
        let world = self.world;
        if let Some(model) = self.model
            && let Some(variable) =
                model.variable_named.get(name).and_then(|id| model.variables.get(usize::from(id.0)))
        {
            return Some(match &variable.kind {
                VariableKind::Element { element } => {
                    format!("one of the things of this model ({element})")
                }
                VariableKind::Tool => "a special tool".to_owned(),
                VariableKind::State
                | VariableKind::Series
                | VariableKind::Serial { .. }
                | VariableKind::Observation
                | VariableKind::Hold { .. }
                | VariableKind::Inspection { .. }
                | VariableKind::Unknown { .. }
                | VariableKind::Denied { .. }
                | VariableKind::DeniedTime { .. } => "a state of this model".to_owned(),
            });
        }
        if let Some(limit) = self.named_limit(name) {
            return Some(if limit.is_value { "a value" } else { "a limit" }.to_owned());
        }
        let at_points = self.model.is_some_and(|model| model.points.contains_key(name));
        let sorts = [
            (at_points, "something that stands at several points of this model"),
            (self.readings.reading(name).is_some(), "a reading"),
            (world.instruments.contains_key(name), "an instrument"),
            (world.tools.contains_key(name), "a tool"),
            (world.consumables.contains_key(name), "a consumable"),
            (world.tables.contains_key(name), "a table"),
            (world.templates.contains_key(name), "a template"),
            (world.models.contains_key(name), "a model"),
            (world.procedures.contains_key(name), "a procedure or subtask"),
            (world.elements.contains_key(name), "an element of the vocabulary"),
        ];
        sorts.iter().find(|(is, _)| *is).map(|(_, what)| (*what).to_owned())
    }

    /// The things or states that a name means: one, or those at the points that are said, or at all of them.
    pub(crate) fn at_points(
        &self,
        name: &tree::Name,
        said: &[&tree::Name],
        found: &mut Findings,
    ) -> Option<Vec<tree::Name>> {
        let model = self.model;
        let points = model.and_then(|model| model.points.get(&name.text));
        let one = |point: &str| {
            let text = crate::world::at_point(&name.text, point);
            tree::Name { text, span: name.span }
        };
        if said.is_empty() {
            let here = self.readings.done_at();
            let stands =
                |points: &&Vec<String>| points.iter().any(|point| Some(point.as_str()) == here);
            return Some(match (points, points.filter(stands).and(here)) {
                (None, _) => vec![name.clone()],
                (Some(_), Some(here)) => vec![one(here)],
                (Some(points), None) => points.iter().map(|point| one(point)).collect(),
            });
        }
        if points.is_none() && !model.is_some_and(|model| model.has(&name.text)) {
            // What it is not is said where it is looked up.
            return Some(vec![name.clone()]);
        }
        let own = points.map(Vec::as_slice).unwrap_or_default();
        let own = if self.readings.knows_one(own) { &[] } else { own };
        let mut meant = Vec::new();
        for point in said {
            let here = self.readings.point_here(&point.text);
            let here = here.unwrap_or_else(|| point.text.clone());
            if !own.contains(&here) {
                found.add(&NoSuchPoint {
                    thing: self.words(&name.text).said,
                    point: here,
                    points: own.to_vec(),
                    span: point.span,
                });
                return None;
            }
            meant.push(one(&here));
        }
        Some(meant)
    }

    /// Says that a name is unknown, with the nearest of what is known of the sort.
    pub(crate) fn unknown<'n>(
        &self,
        wanted: &'static str,
        name: &tree::Name,
        known: impl IntoIterator<Item = &'n str>,
        found: &mut Findings,
    ) {
        self.unknown_near(wanted, name, |text| nearest(text, known), found);
    }

    /// The same, where another rule says what is near.
    pub(crate) fn unknown_near(
        &self,
        wanted: &'static str,
        name: &tree::Name,
        near: impl FnOnce(&str) -> Option<String>,
        found: &mut Findings,
    ) {
        if self.is_broken(&name.text) {
            return;
        }
        // No name begins so: the grammar leaves a power here that it does not take.
        if name.text.starts_with('^') {
            let why = format!("a power is a whole number from ^1 to ^{}", tree::GREATEST_POWER);
            let (written, span) = (name.text.clone(), name.span);
            found.add(&ImpossibleValue { written, span, why, instead: None, narrow: None });
            return;
        }
        let else_is = self.what_is(&name.text);
        let near = if else_is.is_some() { None } else { near(&name.text) };
        found.add(&UnknownName { wanted, name: name.text.clone(), span: name.span, near, else_is });
    }

    /// Declared, but with a finding of its own: what uses it stays quiet.
    pub(crate) fn is_broken(&self, name: &str) -> bool {
        // Where a line could not be read, it may be the one that declares the name.
        self.readings.unread()
            || self.world.incomplete
            || self.world.broken.contains(name)
            || self.model.is_some_and(|model| model.incomplete || model.broken.contains(name))
    }

    /// Every state, element and special tool of the model.
    pub(crate) fn variable_names(&self) -> impl Iterator<Item = &str> {
        let at_points = self.model.into_iter().flat_map(|model| model.points.keys());
        let single = self.model.into_iter().flat_map(|model| model.variable_named.keys());
        single.chain(at_points).map(String::as_str)
    }

    /// Every value and limit in sight.
    pub(crate) fn limit_names(&self) -> impl Iterator<Item = &str> {
        let of_model = self.model.into_iter().flat_map(|model| model.limits.keys());
        of_model.chain(self.world.limits.keys()).map(String::as_str)
    }

    /// What the source says at a place, its line ends and runs of blanks as one blank; with the brackets around its first
    /// or last part, which belong to no part of the tree.
    pub(crate) fn written(&self, span: Span) -> String {
        let text = self.world.sources.text(span.file);
        one_line(text.get(with_brackets(text, span.range())).unwrap_or_default())
    }

    pub(super) fn written_or(&self, span: Span, otherwise: impl FnOnce() -> String) -> String {
        let written = self.written(span);
        if written.is_empty() { otherwise() } else { written }
    }
}

/// A place in a text, made wider until each round bracket in it has its other one; as it is where one has none.
fn with_brackets(text: &str, at: Range<usize>) -> Range<usize> {
    let (mut open, mut lacks, mut quoted) = (0_usize, 0_usize, false);
    for sign in text.get(at.clone()).unwrap_or_default().chars() {
        match sign {
            '"' => quoted = !quoted,
            '(' if !quoted => open += 1,
            ')' if !quoted && open == 0 => lacks += 1,
            ')' if !quoted => open -= 1,
            _ => {}
        }
    }
    let before = text.get(..at.start).unwrap_or_default().char_indices().rev();
    let before = before.map(|(place, sign)| (at.start - place, sign));
    let behind = text.get(at.end..).unwrap_or_default().char_indices();
    let behind = behind.map(|(place, sign)| (place + sign.len_utf8(), sign));
    match (reach(before, '(', lacks), reach(behind, ')', open)) {
        (Some(before), Some(behind)) => at.start - before..at.end + behind,
        (None, _) | (_, None) => at,
    }
}

/// How far it is to the last of so many brackets that come next; none where there are fewer.
fn reach(signs: impl Iterator<Item = (usize, char)>, bracket: char, many: usize) -> Option<usize> {
    let next = signs.filter(|(_, sign)| !sign.is_whitespace()).take(many);
    let far: Vec<usize> = next.filter(|(_, sign)| *sign == bracket).map(|(far, _)| far).collect();
    (far.len() == many).then(|| far.last().copied().unwrap_or(0))
}

/// A text with its line ends and runs of blanks as one blank.
pub(crate) fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::with_brackets;

    fn said<'t>(text: &'t str, part: &str) -> &'t str {
        let start = text.find(part).unwrap();
        text.get(with_brackets(text, start..start + part.len())).unwrap()
    }

    #[test]
    fn what_stands_in_brackets_is_said_with_them() {
        assert_eq!(said("up(a - (b - c))", "a - (b - c"), "a - (b - c)");
        assert_eq!(said("up((a - b) - c)", "a - b) - c"), "(a - b) - c");
        assert_eq!(said("((a - b) * (c - d))", "a - b) * (c - d"), "(a - b) * (c - d)");
        assert_eq!(said("a - ( ( b - c ) )", "a - ( ( b - c"), "a - ( ( b - c ) )");
        assert_eq!(said("max(a - (b - c) / d)", "a - (b - c) / d"), "a - (b - c) / d");
    }

    #[test]
    fn a_bracket_of_a_text_and_one_that_has_no_other_stay() {
        assert_eq!(said("x \"a (b\" y)", "\"a (b\""), "\"a (b\"");
        assert_eq!(said("a - (b - c, d)", "a - (b - c"), "a - (b - c");
        assert_eq!(said("a) - b", "a) - b"), "a) - b");
    }
}
