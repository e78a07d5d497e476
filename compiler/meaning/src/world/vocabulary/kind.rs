//! `kind temperature : differences temperature-difference`

use crate::findings::names::{UnknownAttribute, UnknownName};
use crate::findings::quantities::UnitWithoutGround;
use crate::world::declared::KindLine;
use crate::world::near::nearest;
use crate::world::parts::Parts;
use crate::world::read::one_line;
use locknut_finding::{Findings, Sources};
use locknut_quantity::{Dimension, Exact, Kind, Units};
use locknut_syntax::tree::{Expression, Limit, LimitForm, Name};

/// A kind's line, read.
struct Said<'t> {
    name: &'t Name,
    /// The kind of its differences, where that is another one.
    differences: Option<&'t Name>,
    qualifier: Option<&'t Name>,
    dimension: Option<Dimension>,
    logarithmic: bool,
    floor: Option<Exact>,
}

/// Adds the kinds, in any order of their lines: first those that are their own difference.
pub(in crate::world) fn kinds(
    lines: &[KindLine<'_>],
    sources: &Sources,
    units: &mut Units,
    found: &mut Findings,
) {
    let said: Vec<Said<'_>> = lines.iter().map(|line| said(line, sources, found)).collect();
    for kind in said.iter().filter(|kind| kind.differences.is_none()) {
        add(kind, None, units);
    }
    for kind in &said {
        let Some(differences) = kind.differences else { continue };
        let plain =
            |other: &Said<'_>| other.name.text == differences.text && other.differences.is_none();
        let difference = units.kind_named(&differences.text).filter(|_| said.iter().any(plain));
        let Some(difference) = difference else {
            no_difference(kind.name, differences, &said, found);
            add(kind, None, units);
            continue;
        };
        add(kind, Some(difference), units);
    }
}

fn said<'t>(line: &KindLine<'t>, sources: &Sources, found: &mut Findings) -> Said<'t> {
    let mut said = Said {
        name: line.name,
        differences: None,
        qualifier: None,
        dimension: None,
        logarithmic: false,
        floor: None,
    };
    for attribute in line.attributes {
        let mut parts = Parts::of(attribute);
        let known = if parts.says(&["differences"]) {
            said.differences = parts.word();
            said.differences.is_some()
        } else if parts.says(&["said"]) {
            said.qualifier = parts.word();
            said.qualifier.is_some()
        } else if parts.says(&["dimension"]) {
            said.dimension = parts.text().and_then(|text| Dimension::parse(&text.plain()));
            said.dimension.is_some()
        } else if parts.says(&["never", "below"]) {
            said.floor = parts.limit().and_then(bare);
            said.floor.is_some()
        } else {
            said.logarithmic |= parts.says(&["logarithmic"]);
            said.logarithmic
        };
        if !known || !parts.done() {
            found.add(&UnknownAttribute {
                kind: format!("the kind {}", line.name.text),
                written: one_line(sources.slice(attribute.span)),
                span: attribute.span,
                near: None,
                word: attribute.span,
                like: None,
                takes: vec![
                    "differences KIND".into(),
                    "said WORD".into(),
                    "dimension \"L M T-2\"".into(),
                    "never below 0".into(),
                    "logarithmic".into(),
                ],
            });
        }
    }
    said
}

fn add(kind: &Said<'_>, difference: Option<locknut_quantity::KindId>, units: &mut Units) {
    units.add_kind(Kind {
        name: kind.name.text.clone(),
        difference,
        qualifier: kind.qualifier.map(|word| word.text.clone()),
        dimension: kind.dimension,
        logarithmic: kind.logarithmic,
        floor: kind.floor.clone(),
    });
}

fn no_difference(kind: &Name, differences: &Name, said: &[Said<'_>], found: &mut Findings) {
    let known = said.iter().map(|kind| kind.name.text.as_str());
    if known.clone().any(|name| name == differences.text) {
        found.add(&UnitWithoutGround {
            what: format!("difference of two values of the kind {}", kind.text),
            span: differences.span,
            why: format!("{} has differences of another kind itself", differences.text),
            near: None,
        });
        return;
    }
    found.add(&UnknownName {
        wanted: "kind of quantity",
        name: differences.text.clone(),
        span: differences.span,
        near: nearest(&differences.text, known),
        else_is: None,
    });
}

/// A number of base units, which no unit is known for yet.
fn bare(limit: &Limit) -> Option<Exact> {
    let LimitForm::Just(Expression::Quantity(figure)) = &limit.form else { return None };
    let whole: i64 = figure.number.text.parse().ok()?;
    figure.unit.is_none().then(|| Exact::from_integer(whole.into()))
}
