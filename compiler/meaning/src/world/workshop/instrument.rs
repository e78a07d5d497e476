//! `instrument feeler-gauge { measures length 0.03 .. 2 mm, resolution 0.01 mm, error 0.005 mm }`

use super::error::{below_the_error, error};
use super::scale::scale;
use super::{figure, template};
use super::{months, not_known, zero};
use crate::findings::names::{SaidTwice, SaysTooLittle, UnknownName};
use crate::findings::quantities::{OneFigure, UnknownUnit};
use crate::world::names::Names;
use crate::world::parts::Parts;
use crate::world::read::{NoReadings, Reader, figures, figures_mut};
use crate::world::{Instrument, World};
use locknut_finding::{Findings, Span};
use locknut_graph::Words;
use locknut_quantity::{Bound, Exact, KindId, Limit, Quantity, UnitId};
use locknut_syntax::tree::{self, Attribute, LimitForm, Name, Text, Thing};
use num_traits::Signed;
use std::collections::BTreeMap;

const WORDS: &[&str] = &[
    "measures",
    "applies",
    "scale",
    "answers",
    "resolution",
    "error",
    "standard",
    "calibrate",
    "proved",
    "made",
];

const FORMS: &[&str] = &[
    "measures KIND RANGE",
    "applies KIND RANGE",
    "scale NAME \"…\" RANGE",
    "answers only LIMIT",
    "resolution",
    "error",
    "standard uncertainty",
    "calibrate every N months",
    "proved on \"…\" before and after",
    template::FORM,
];

/// All instruments; those that cannot be used have a finding, and their name is marked as broken.
pub(in crate::world) fn instruments(things: &[&Thing], world: &mut World, found: &mut Findings) {
    let (mut all, mut applied) = (BTreeMap::new(), BTreeMap::new());
    let mut broken = Vec::new();
    for thing in things.iter().filter(|thing| thing.keyword.text == "instrument") {
        let reader = Reader { world, model: None, readings: &NoReadings };
        match instrument(thing, reader, found) {
            Some(instrument) => {
                let beside = applies_beside(thing, instrument.kind, reader, found);
                applied.extend(beside.map(|limit| (thing.name.text.clone(), limit)));
                drop(all.insert(thing.name.text.clone(), instrument));
            }
            None => broken.push(thing.name.text.clone()),
        }
    }
    world.instruments = all;
    world.applied = applied;
    world.broken.extend(broken);
}

/// What an instrument shows or sets.
struct Shows<'t> {
    kind: KindId,
    unit: UnitId,
    scale: Option<String>,
    applies: bool,
    /// What it can show, or the one limit that it answers.
    range: Limit,
    /// What its line says further.
    left: Parts<'t>,
}

fn instrument(thing: &Thing, reader: Reader<'_>, found: &mut Findings) -> Option<Instrument> {
    let inches = thing.attributes.iter().find_map(|attribute| Parts::of(attribute).inches());
    if let Some(span) = inches {
        found.add(&UnknownUnit::inches(span));
        return None;
    }
    let shows = shows(thing, reader, found)?;
    let mut instrument = Instrument {
        words: Words::of(&thing.name.text),
        kind: shows.kind,
        unit: shows.unit,
        scale: shows.scale,
        applies: shows.applies,
        one_limit: figure::line(thing).is_some(),
        range_written: shows.range.written,
        range: shows.range.range,
        resolution: None,
        error: None,
        standard_uncertainty: None,
        calibrate_months: None,
        proved_on: None,
        template: None,
        span: thing.name.span,
    };
    let mut seen = Names::default();
    let mut uncertainty_at = None;
    for attribute in &thing.attributes {
        let mut parts = Parts::of(attribute);
        if is_main(&parts) {
            if is_beside(thing, attribute) {
                continue;
            }
            parts = shows.left;
            if parts.done() {
                continue;
            }
        }
        let mut known = true;
        while known && !parts.done() {
            let Some(word) = parts.word() else {
                known = false;
                break;
            };
            let what = format!("“{}” of the instrument {}", word.text, thing.name.text);
            seen.once(what, word.span, found);
            if word.text == "standard" {
                uncertainty_at = Some(word.span.to(attribute.span));
            }
            known = further(word, &mut parts, &mut instrument, reader, found);
            // `proved` may go on a line that has another beginning, since it begins a clause elsewhere.
            known &= parts.done() || parts.ahead().is_some_and(|word| word.text == "proved");
        }
        if !known {
            not_known(thing, attribute, WORDS, FORMS, reader, found);
        }
    }
    on_its_scale(&mut instrument);
    if let Some(at) = uncertainty_at {
        below_the_error(&instrument, at, found);
    }
    template::shows_its_limit(thing, &instrument, reader, found);
    Some(instrument)
}

/// Gives the errors their full scale, and the display its half step where an error leaves it out: the
/// rounding alone is half a step, so an error that is smaller cannot hold it; nor can a standard uncertainty that is
/// smaller than that of the rounding, which counts in its place then.
fn on_its_scale(instrument: &mut Instrument) {
    let end = |end: &Option<Bound>| end.as_ref().map_or_else(zero, |end| end.value.clone());
    let (lower, upper) = (end(&instrument.range.lower), end(&instrument.range.upper));
    let half =
        instrument.resolution.as_ref().map(|step| &step.value / Exact::from_integer(2.into()));
    let errors = instrument.error.iter_mut().chain(&mut instrument.standard_uncertainty);
    for error in errors {
        let (least, most) = (&lower - &error.zero, &upper - &error.zero);
        error.full_scale = (most - least.clone().min(zero())).max(least.abs());
    }
    if let (Some(stated), Some(half)) = (&mut instrument.standard_uncertainty, &half) {
        // Half a step, uniform: a over the root of three (JCGM 100:2008, 4.3.7), rounded up.
        let of_display = half * Exact::new(57_736.into(), 100_000.into());
        stated.of_step = (of_display - stated.constant()).max(zero());
    }
    if let (Some(error), Some(half)) = (&mut instrument.error, half)
        && error.constant() < half
    {
        error.of_step = half;
    }
}

fn further(
    word: &Name,
    parts: &mut Parts<'_>,
    instrument: &mut Instrument,
    reader: Reader<'_>,
    found: &mut Findings,
) -> bool {
    match word.text.as_str() {
        // Read with what it measures.
        "answers" if instrument.one_limit && !instrument.applies => {
            while parts.word().is_some() || parts.limit().is_some() {}
            parts.done()
        }
        "resolution" => {
            let Some(limit) = parts.limit() else { return false };
            instrument.resolution = resolution(limit, instrument, reader, found);
            true
        }
        "error" => {
            let said = error(parts, instrument.kind, instrument.unit, reader, found);
            let known = said.is_some();
            instrument.error = said.and_then(|said| said.error);
            known
        }
        "standard" => {
            if !parts.says(&["uncertainty"]) {
                return false;
            }
            let said = error(parts, instrument.kind, instrument.unit, reader, found);
            let known = said.is_some();
            instrument.standard_uncertainty = said.and_then(|said| said.error);
            known
        }
        "calibrate" => {
            parts.says(&["every"]);
            let said = months(parts, reader, found);
            instrument.calibrate_months = said.flatten();
            said.is_some()
        }
        "proved" => {
            if !parts.says(&["on"]) {
                return false;
            }
            let Some(text) = parts.text() else { return false };
            instrument.proved_on = Some(reader.prose(text, found));
            parts.says(&["before", "and", "after"])
        }
        "made" => {
            if !parts.says(&["from", "template"]) {
                return false;
            }
            let named = template::named(parts, reader, found);
            instrument.template = named.as_deref().map(Words::of);
            true
        }
        _ => false,
    }
}

fn shows<'t>(thing: &'t Thing, reader: Reader<'_>, found: &mut Findings) -> Option<Shows<'t>> {
    let mut all = thing.attributes.iter().filter(|attribute| is_main(&Parts::of(attribute)));
    let Some(first) = all.next() else {
        found.add(&SaysTooLittle {
            what: format!("the instrument {}", thing.name.text),
            lacks: "not what it measures",
            span: thing.name.span,
            consequence: "no limit can be checked against it",
            mend: "write “measures length 0 .. 150 mm”, “applies torque 20 .. 100 N·m” or “scale ha \"Shore A\" 0 .. 100”",
        });
        return None;
    };
    for again in all.filter(|again| !is_beside(thing, again)) {
        let what = format!("what the instrument {} measures", thing.name.text);
        found.add(&SaidTwice { what, first: first.span, again: again.span });
    }
    let mut parts = Parts::of(first);
    let read = match scale(&mut parts) {
        Some((name, words)) => on_its_own_scale(thing, name, words, &mut parts, reader, found),
        None => of_a_kind(thing, first, &mut parts, reader, found),
    }?;
    if parts.done() || parts.ahead().is_some_and(|word| word.text == "proved") {
        return Some(Shows { left: parts, ..read });
    }
    not_known(thing, first, WORDS, FORMS, reader, found);
    None
}

/// `applies voltage 500 V` of an instrument that measures something else with it.
fn is_beside(thing: &Thing, attribute: &Attribute) -> bool {
    let said = |attribute: &Attribute| {
        let mut parts = Parts::of(attribute);
        let verb = parts.word()?.text.clone();
        Some((verb, parts.word()?.text.clone()))
    };
    let first = thing.attributes.iter().find(|attribute| is_main(&Parts::of(attribute)));
    let (Some((first, measured)), Some((verb, applied))) = (first.and_then(said), said(attribute))
    else {
        return false;
    };
    first == "measures" && verb == "applies" && measured != applied
}

/// What it applies to what it measures: the fitter is told of it at each reading.
fn applies_beside(
    thing: &Thing,
    measures: KindId,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<Limit> {
    let attribute = thing.attributes.iter().find(|one| is_beside(thing, one))?;
    let mut parts = Parts::of(attribute);
    let (_, name) = (parts.word()?, parts.word()?);
    let Some(kind) = reader.units().kind_named(&name.text).filter(|kind| *kind != measures) else {
        no_such_kind(name, parts.limit(), reader, found);
        return None;
    };
    let Some(limit) = parts.limit().filter(|_| parts.done()) else {
        not_known(thing, attribute, WORDS, FORMS, reader, found);
        return None;
    };
    reader.limit(limit, Some(kind), found)
}

/// The line that says what it measures.
fn is_main(parts: &Parts<'_>) -> bool {
    parts.ahead().is_some_and(|word| ["measures", "applies", "scale"].contains(&word.text.as_str()))
}

fn on_its_own_scale<'t>(
    thing: &'t Thing,
    name: &Name,
    words: Option<&Text>,
    parts: &mut Parts<'t>,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<Shows<'t>> {
    let kind = reader.units().kind_named(&name.text)?;
    let unit = reader.units().of_kind(kind).next()?;
    let range = match figure::line(thing) {
        Some(line) => one_limit(line, parts.limit(), kind, Some(unit), reader, found)?,
        None => range(parts.limit(), name.span, kind, Some(unit), reader, found)?,
    };
    let scale = Some(words.map_or_else(|| name.text.clone(), Text::plain));
    Some(Shows { kind, unit, scale, applies: false, range, left: *parts })
}

fn of_a_kind<'t>(
    thing: &Thing,
    attribute: &Attribute,
    parts: &mut Parts<'t>,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<Shows<'t>> {
    let verb = parts.word()?;
    let Some(name) = parts.word() else {
        not_known(thing, attribute, WORDS, FORMS, reader, found);
        return None;
    };
    let Some(kind) = reader.units().kind_named(&name.text) else {
        no_such_kind(name, parts.limit(), reader, found);
        return None;
    };
    let limit = parts.limit();
    let kind = limit.map_or(kind, |limit| reader.kind_said(kind, limit));
    let range = match figure::line(thing) {
        Some(line) => one_limit(line, limit, kind, None, reader, found)?,
        None => range(limit, attribute.span, kind, None, reader, found)?,
    };
    let applies = verb.text == "applies";
    Some(Shows { kind, unit: range.unit, scale: None, applies, range, left: *parts })
}

/// `pressure` is what two kinds have in common: which is meant, the word beside the range says.
fn no_such_kind(
    name: &Name,
    range: Option<&tree::Limit>,
    reader: Reader<'_>,
    found: &mut Findings,
) {
    let of = format!("-{}", name.text);
    let kinds = || reader.units().kinds().iter();
    let sorts = || kinds().filter(|kind| kind.qualifier.is_some() && kind.name.ends_with(&of));
    if sorts().next().is_none() {
        reader.unknown("kind of quantity", name, kinds().map(|kind| kind.name.as_str()), found);
        return;
    }
    let figures = range.map(figures).unwrap_or_default();
    let word = figures.iter().find_map(|figure| figure.qualifier.as_ref());
    let near =
        sorts().find(|kind| word.is_some_and(|word| kind.qualifier.as_ref() == Some(&word.text)));
    if near.is_none() {
        found.add(&SaysTooLittle {
            what: format!("“{}”", name.text),
            lacks: "not what it is measured from",
            span: name.span,
            consequence: "gauge and absolute pressure are one atmosphere apart",
            mend: "write: measures gauge-pressure, or: measures absolute-pressure",
        });
        return;
    }
    found.add(&UnknownName {
        wanted: "kind of quantity",
        name: name.text.clone(),
        span: name.span,
        near: near.map(|kind| kind.name.clone()),
        else_is: None,
    });
}

/// The one limit that it answers; it shows no figures, so it has no range beside.
fn one_limit(
    line: &Attribute,
    range: Option<&tree::Limit>,
    kind: KindId,
    own: Option<UnitId>,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<Limit> {
    if let Some(range) = range {
        let what = "what this instrument shows".to_owned();
        found.add(&SaidTwice { what, first: range.span, again: line.span });
        return None;
    }
    let in_own = |limit: &tree::Limit| reader.in_own_unit(limit, kind, own);
    figure::read(line, kind, in_own, reader, found)
}

/// The range that an instrument can show: two ends, and some way between them.
fn range(
    limit: Option<&tree::Limit>,
    span: Span,
    kind: KindId,
    own: Option<UnitId>,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<Limit> {
    let Some(limit) = limit else {
        found.add(&SaysTooLittle {
            what: "this instrument".to_owned(),
            lacks: "no range",
            span,
            consequence: "nobody can tell which limits it can show",
            mend: "write its least and its greatest value, “0.03 .. 2 mm”",
        });
        return None;
    };
    let limit = reader.in_own_unit(limit, kind, own);
    let range = reader.limit(&limit, Some(kind), found)?;
    match (&range.range.lower, &range.range.upper) {
        (Some(lower), Some(upper)) if lower.value < upper.value => Some(range),
        _ => {
            found.add(&OneFigure {
                written: range.written.clone(),
                span: limit.span,
                found: "a single figure".to_owned(),
                wanted: "a range",
                mend: "write its least and its greatest value, “0.03 .. 2 mm”".to_owned(),
            });
            None
        }
    }
}

fn resolution(
    limit: &tree::Limit,
    instrument: &Instrument,
    reader: Reader<'_>,
    found: &mut Findings,
) -> Option<Quantity> {
    let units = reader.units();
    let own = reader.world.own_scales.contains_key(&instrument.kind).then_some(instrument.unit);
    let step = units.difference_of(instrument.kind);
    let limit = reader.in_own_unit(limit, step, own);
    let LimitForm::Just(figure) = &limit.form else {
        found.add(&OneFigure {
            written: reader.written(limit.span),
            span: limit.span,
            found: "a range".to_owned(),
            wanted: "one figure",
            mend: "write the smallest step that its display shows".to_owned(),
        });
        return None;
    };
    let quantity = reader.value(figure, Some(step), found)?;
    if quantity.value <= zero() {
        let why = "a display moves in steps greater than nothing".to_owned();
        reader.impossible(limit.span, why, None, found);
        return None;
    }
    if instrument.range.width().is_some_and(|all| quantity.value > all) {
        let why =
            format!("one step would be more than all that it shows, {}", instrument.range_written);
        reader.impossible(limit.span, why, None, found);
        return None;
    }
    Some(quantity)
}

impl Reader<'_> {
    /// `measures pressure 0 .. 10 bar gauge` measures gauge pressure: the word beside the figure says
    /// more than the kind's name.
    fn kind_said(self, kind: KindId, limit: &tree::Limit) -> KindId {
        let Some(word) = figures(limit).into_iter().find_map(|figure| figure.qualifier.as_ref())
        else {
            return kind;
        };
        let units = self.units();
        let mut all = (0..units.kinds().len()).filter_map(|at| u16::try_from(at).ok()).map(KindId);
        let said = all.find(|other| {
            units.difference_of(*other) == kind
                && units.kind(*other).qualifier.as_ref() == Some(&word.text)
        });
        said.unwrap_or(kind)
    }

    /// Figures in an instrument's block take what its first line has said: the unit of its own scale,
    /// and whether its pressure is gauge or absolute.
    pub(super) fn in_own_unit(
        self,
        limit: &tree::Limit,
        kind: KindId,
        own: Option<UnitId>,
    ) -> tree::Limit {
        let mut limit = limit.clone();
        let units = self.units();
        for figure in figures_mut(&mut limit) {
            let span = figure.span;
            if let Some(own) = own.filter(|_| figure.unit.is_none()) {
                figure.unit = Some(Name { text: units.unit(own).name.clone(), span });
            }
            let unit = figure.unit.as_ref().map(|unit| unit.text.as_str());
            let word = units.kind(kind).qualifier.clone();
            let word =
                word.filter(|word| units.meant(unit.unwrap_or(""), Some(word), Some(kind)).is_ok());
            if let Some(word) = word {
                figure.qualifier.get_or_insert(Box::new(Name { text: word, span }));
            }
        }
        limit
    }
}
