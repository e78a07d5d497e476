//! The tables as they stand in the files, and the units that their definitions give.

use locknut_quantity::{
    Bound, Exact, Kind, Range, Rounding, System, Unit, UnitId, Units, parse_exact,
};
use serde::Deserialize;

const UNITS: &str = include_str!("../../../../tests/reference/units.yaml");

/// All units, each the product of the factors of its definition.
pub(crate) fn defined() -> Units {
    let table: Definitions = serde_yaml::from_str(UNITS).unwrap();
    let mut units = Units::new();
    for row in &table.units {
        let kind = units.kind_named(&row.kind).unwrap_or_else(|| {
            units.add_kind(Kind {
                name: row.kind.clone(),
                difference: None,
                qualifier: None,
                dimension: None,
                logarithmic: false,
                floor: None,
            })
        });
        let one = Exact::from_integer(1.into());
        units.add_unit(Unit {
            name: row.unit.clone(),
            kind,
            factor: row
                .one
                .iter()
                .map(|part| number(part))
                .fold(one, |product, part| product * part),
            zero: number(row.zero.as_deref().unwrap_or("0")),
            spellings: Vec::new(),
            system: None::<System>,
            counterpart: None::<UnitId>,
            close: false,
            source: None,
        });
    }
    units
}

pub(crate) fn unit<'u>(units: &'u Units, name: &str, kind: &str) -> &'u Unit {
    let kind = units.kind_named(kind).unwrap_or_else(|| panic!("no kind {kind}"));
    let found = units.spelled(name).iter().find(|unit| units.unit(**unit).kind == kind);
    units.unit(*found.unwrap_or_else(|| panic!("no unit {name}")))
}

pub(crate) fn range_of(ends: &Ends, unit: &Unit) -> Range {
    let bound = |text: Option<&str>| {
        figure(text).map(|number| Bound { value: unit.value_of(&number), closed: true })
    };
    Range { lower: bound(ends.0.as_deref()), upper: bound(ends.1.as_deref()) }
}

/// A number rounded to the last digit of a printed one.
pub(crate) fn to_as_many_digits(value: &Exact, printed: &str) -> Exact {
    let decimals = printed.split_once('.').map_or(0, |(_, digits)| digits.len());
    let step = number(&format!("1/1{}", "0".repeat(decimals)));
    Rounding::Nearest.to_step(value, &step)
}

pub(crate) fn figure(text: Option<&str>) -> Option<Exact> {
    text.map(number)
}

pub(crate) fn number(text: &str) -> Exact {
    parse_exact(text).unwrap_or_else(|| panic!("{text} is no number"))
}

#[derive(Deserialize)]
struct Definitions {
    units: Vec<Definition>,
}

#[derive(Deserialize)]
struct Definition {
    unit: String,
    kind: String,
    one: Vec<String>,
    zero: Option<String>,
}

#[derive(Deserialize)]
pub(crate) struct Conversions {
    pub(crate) source: String,
    pub(crate) rows: Vec<Conversion>,
}

#[derive(Deserialize)]
pub(crate) struct Conversion {
    pub(crate) kind: String,
    pub(crate) value: String,
    pub(crate) from: String,
    pub(crate) to: String,
    pub(crate) exact: String,
    pub(crate) mark: String,
    pub(crate) printed: Option<String>,
    pub(crate) printed_mark: Option<String>,
}

#[derive(Deserialize)]
pub(crate) struct Roundings {
    pub(crate) source: String,
    pub(crate) limits: Vec<MovedLimit>,
    pub(crate) numbers: Vec<Rounded>,
}

#[derive(Deserialize)]
pub(crate) struct Ends(pub(crate) Option<String>, pub(crate) Option<String>);

#[derive(Deserialize)]
#[serde(untagged)]
pub(crate) enum Inward {
    Ends(Option<String>, Option<String>),
    Word(String),
}

#[derive(Deserialize)]
pub(crate) struct MovedLimit {
    pub(crate) id: String,
    pub(crate) kind: String,
    pub(crate) from: String,
    pub(crate) written: Ends,
    pub(crate) to: String,
    pub(crate) step: String,
    pub(crate) exact: Ends,
    pub(crate) inward: Option<Inward>,
    pub(crate) nearest: Option<Ends>,
    pub(crate) outside: Option<Ends>,
    pub(crate) mark: String,
}

#[derive(Deserialize)]
pub(crate) struct Rounded {
    pub(crate) value: String,
    pub(crate) step: String,
    pub(crate) nearest: String,
    pub(crate) source: String,
    pub(crate) mark: String,
}
