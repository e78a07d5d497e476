//! `unit mm : length = 0.001 m, spelled "…", system si, counterpart inch, per "…"`

use crate::findings::names::{TooMany, UnknownAttribute, UnknownName};
use crate::findings::quantities::{ImpossibleValue, UnitWithoutGround};
use crate::world::near::nearest;
use crate::world::order::in_order;
use crate::world::parts::Parts;
use crate::world::read::one_line;
use locknut_finding::{Findings, Sources};
use locknut_quantity::{Exact, KindId, System, Unit, UnitId, Units, parse_exact};
use locknut_syntax::tree::{Name, Number, UnitDeclaration};
use std::collections::BTreeMap;

/// A library has at most so many units: their ids are small.
const MOST: usize = 4_000;

/// Adds the units, in any order of their lines: each after the one it is told in.
pub(in crate::world) fn units(
    lines: &[&UnitDeclaration],
    sources: &Sources,
    units: &mut Units,
    found: &mut Findings,
) {
    if let Some(line) = lines.get(MOST) {
        found.add(&TooMany { what: "units in one library", most: MOST, span: line.span });
    }
    let lines = lines.get(..MOST).unwrap_or(lines);
    let order = in_order(&told_in_lines(lines));
    for line in order.circles.iter().filter_map(|circle| lines.get(*circle.first()?)) {
        let why = "it is told in units that are told in it".to_owned();
        let base = line.factor.as_ref().map_or(&line.name, |(.., base)| base);
        found.add(&without_ground(line, base, why, None));
    }
    let mut counterparts = Vec::new();
    for line in order.order.iter().filter_map(|at| lines.get(*at)) {
        let said = said(line, sources, found);
        for unit in one(line, &said, sources, units, found) {
            counterparts.extend(said.counterpart.map(|other| (unit, other)));
        }
    }
    for (unit, other) in counterparts {
        counterpart(unit, other, units, found);
    }
}

/// For each unit, the lines of the unit that it is told in: of the same kind where there is one.
fn told_in_lines(lines: &[&UnitDeclaration]) -> Vec<Vec<usize>> {
    let mut by_name: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (at, line) in lines.iter().enumerate() {
        by_name.entry(&line.name.text).or_default().push(at);
    }
    let needs = |line: &UnitDeclaration| -> Option<Vec<usize>> {
        let (.., base) = line.factor.as_ref()?;
        let all = by_name.get(base.text.as_str())?;
        let alike = |at: &usize| {
            let kinds = lines.get(*at).map(|other| other.kinds.as_slice()).unwrap_or_default();
            kinds.iter().any(|kind| line.kinds.iter().any(|own| own.text == kind.text))
        };
        let same: Vec<usize> = all.iter().copied().filter(alike).collect();
        Some(if same.is_empty() { all.clone() } else { same })
    };
    lines.iter().map(|line| needs(line).unwrap_or_default()).collect()
}

/// What a unit's attributes say.
#[derive(Default)]
struct Said<'t> {
    spellings: Vec<String>,
    system: Option<System>,
    counterpart: Option<&'t Name>,
    close: bool,
    source: Option<String>,
}

fn said<'t>(line: &'t UnitDeclaration, sources: &Sources, found: &mut Findings) -> Said<'t> {
    let mut said = Said::default();
    let mut spelling = false;
    for attribute in &line.attributes {
        let mut parts = Parts::of(attribute);
        // Further spellings follow the first, each after a comma.
        spelling = parts.says(&["spelled"]) || (spelling && parts.ahead().is_none());
        let known = if spelling {
            let mut any = false;
            while let Some(text) = parts.text() {
                any = true;
                said.spellings.push(text.plain());
            }
            any
        } else {
            other_attribute(&mut parts, &mut said)
        };
        if !known || !parts.done() {
            found.add(&UnknownAttribute {
                kind: format!("the unit {}", line.name.text),
                written: one_line(sources.slice(attribute.span)),
                span: attribute.span,
                near: None,
                word: attribute.span,
                like: None,
                takes: [
                    "spelled \"…\"",
                    "system si or us",
                    "counterpart UNIT",
                    "close",
                    "per \"…\"",
                ]
                .map(str::to_owned)
                .to_vec(),
            });
        }
    }
    said
}

fn other_attribute<'t>(parts: &mut Parts<'t>, said: &mut Said<'t>) -> bool {
    if parts.says(&["system"]) {
        said.system = parts.word().and_then(|word| match word.text.as_str() {
            "si" => Some(System::Si),
            "us" => Some(System::Us),
            _ => None,
        });
        said.system.is_some()
    } else if parts.says(&["counterpart"]) {
        said.counterpart = parts.word();
        said.counterpart.is_some()
    } else if parts.says(&["per"]) {
        said.source = parts.text().map(locknut_syntax::tree::Text::plain);
        said.source.is_some()
    } else {
        said.close = parts.says(&["close"]);
        said.close
    }
}

/// One unit for each of its kinds.
fn one(
    line: &UnitDeclaration,
    said: &Said<'_>,
    sources: &Sources,
    units: &mut Units,
    found: &mut Findings,
) -> Vec<UnitId> {
    let mut added = Vec::new();
    for name in &line.kinds {
        let Some(kind) = units.kind_named(&name.text) else {
            let known = units.kinds().iter().map(|kind| kind.name.as_str());
            let near = nearest(&name.text, known);
            let (name, span) = (name.text.clone(), name.span);
            found.add(&UnknownName { wanted: "kind of quantity", name, span, near, else_is: None });
            continue;
        };
        let Some((factor, zero)) = measure(line, kind, sources, units, found) else { continue };
        added.push(units.add_unit(Unit {
            name: line.name.text.clone(),
            kind,
            factor,
            zero,
            spellings: said.spellings.clone(),
            system: said.system,
            counterpart: None,
            close: said.close,
            source: said.source.clone(),
        }));
    }
    added
}

/// How many base units one of it is, and where its zero lies.
fn measure(
    line: &UnitDeclaration,
    kind: KindId,
    sources: &Sources,
    units: &Units,
    found: &mut Findings,
) -> Option<(Exact, Exact)> {
    let none = Exact::from_integer(0.into());
    let factor = match &line.factor {
        None => Exact::from_integer(1.into()),
        Some((number, divisor, base)) => {
            let base = told_in(line, base, kind, units, found)?;
            ratio(number, divisor.as_ref(), sources, found)? * &units.unit(base).factor
        }
    };
    // A difference has no zero of its own: a rise of 20 °C is a rise of 20 K.
    if units.difference_of(kind) == kind {
        return Some((factor, none));
    }
    let Some(zero) = &line.zero else { return Some((factor, none)) };
    let value = parse_exact(&zero.number.text)?;
    let zero = match &zero.unit {
        None => value,
        Some(unit) if unit.text == line.name.text => value * &factor,
        Some(unit) => value * &units.unit(told_in(line, unit, kind, units, found)?).factor,
    };
    Some((factor, zero))
}

/// The unit of the same kind, or of its difference, that another is told in.
fn told_in(
    line: &UnitDeclaration,
    base: &Name,
    kind: KindId,
    units: &Units,
    found: &mut Findings,
) -> Option<UnitId> {
    let spelled = units.spelled(&base.text);
    let of = |kind: KindId| spelled.iter().copied().find(|unit| units.unit(*unit).kind == kind);
    let unit = of(kind).or_else(|| of(units.difference_of(kind)));
    if unit.is_none() {
        let (why, near) = if spelled.is_empty() {
            let known = units.units().iter().map(|unit| unit.name.as_str());
            (format!("nobody knows the unit {}", base.text), nearest(&base.text, known))
        } else {
            let kind = &units.kind(kind).name;
            (format!("{} does not measure the kind {kind}", base.text), None)
        };
        found.add(&without_ground(line, base, why, near));
    }
    unit
}

fn ratio(
    number: &Number,
    divisor: Option<&Number>,
    sources: &Sources,
    found: &mut Findings,
) -> Option<Exact> {
    let none = Exact::from_integer(0.into());
    let above = parse_exact(&number.text)?;
    let below = divisor
        .map_or(Some(Exact::from_integer(1.into())), |divisor| parse_exact(&divisor.text))?;
    if above <= none || below <= none {
        let span = divisor.map_or(number.span, |divisor| number.span.to(divisor.span));
        let written = one_line(sources.slice(span));
        let why = "a unit is more than nothing of another".to_owned();
        found.add(&ImpossibleValue { written, span, why, instead: None, narrow: None });
        return None;
    }
    Some(above / below)
}

fn counterpart(unit: UnitId, other: &Name, units: &mut Units, found: &mut Findings) {
    let kind = units.unit(unit).kind;
    let spelled = units.spelled(&other.text);
    let fitting = spelled.iter().copied().find(|other| units.unit(*other).kind == kind);
    if let Some(fitting) = fitting {
        units.set_counterpart(unit, fitting);
        return;
    }
    if spelled.is_empty() {
        let known = units.units().iter().map(|unit| unit.name.as_str());
        let near = nearest(&other.text, known);
        let (name, span) = (other.text.clone(), other.span);
        found.add(&UnknownName { wanted: "unit", name, span, near, else_is: None });
    }
}

fn without_ground(
    line: &UnitDeclaration,
    at: &Name,
    why: String,
    near: Option<String>,
) -> UnitWithoutGround {
    UnitWithoutGround { what: format!("unit {}", line.name.text), span: at.span, why, near }
}
