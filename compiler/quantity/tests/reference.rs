//! Published and computed values: tests/reference/*.yaml, each row with its source and how far to
//! trust it. Here the units are built from their definitions; the standard library is compared with
//! the same tables where it can be loaded.

use locknut_quantity::{
    Bound, Exact, Kind, Range, Rounding, System, Unit, UnitId, Units, inward_to, parse_exact,
};
use serde::Deserialize;

const UNITS: &str = include_str!("../../../tests/reference/units.yaml");
const CONVERSIONS: &str = include_str!("../../../tests/reference/conversions.yaml");
const ROUNDING: &str = include_str!("../../../tests/reference/rounding.yaml");

#[test]
fn every_factor_is_exact_and_agrees_with_what_is_printed() {
    let table: Conversions = serde_yaml::from_str(CONVERSIONS).unwrap();
    assert!(table.rows.len() >= 88, "only {} rows were read", table.rows.len());
    let units = defined();
    let mut printed = 0;
    for row in &table.rows {
        let (from, to) = (unit(&units, &row.from, &row.kind), unit(&units, &row.to, &row.kind));
        let moved = to.number_of(&from.value_of(&number(&row.value)));
        assert_eq!(moved, number(&row.exact), "{} {} in {}", row.value, row.from, row.to);
        assert_eq!(from.number_of(&to.value_of(&moved)), number(&row.value), "and back");
        if let Some(figure) = &row.printed {
            assert_eq!(
                to_as_many_digits(&moved, figure),
                number(figure),
                "{} is printed",
                row.from
            );
            printed += 1;
        }
    }
    assert!(printed >= 50, "only {printed} rows have a printed figure");
}

#[test]
fn limits_are_rounded_inward_as_workshop_manuals_do() {
    let table: Roundings = serde_yaml::from_str(ROUNDING).unwrap();
    assert!(table.limits.len() >= 56, "only {} rows were read", table.limits.len());
    let units = defined();
    for row in &table.limits {
        let (from, to) = (unit(&units, &row.from, &row.kind), unit(&units, &row.to, &row.kind));
        let range = range_of(&row.written, from);
        let exact = |bound: &Option<Bound>| bound.as_ref().map(|bound| to.number_of(&bound.value));
        assert_eq!(exact(&range.lower), figure(row.exact.0.as_deref()), "{} exact", row.id);
        assert_eq!(exact(&range.upper), figure(row.exact.1.as_deref()), "{} exact", row.id);
        if let Some(wanted) = &row.inward {
            let wanted = match wanted {
                Inward::Ends(lower, upper) => {
                    Some((figure(lower.as_deref()), figure(upper.as_deref())))
                }
                Inward::Word(word) => {
                    assert_eq!(word, "none");
                    None
                }
            };
            assert_eq!(inward_to(&range, to, &number(&row.step)), wanted, "{} inward", row.id);
        }
    }
}

#[test]
fn plain_rounding_is_to_the_even_neighbour_and_falls_outside_where_the_table_says() {
    let table: Roundings = serde_yaml::from_str(ROUNDING).unwrap();
    let units = defined();
    let mut outside = 0;
    for row in table.limits.iter().filter(|row| row.nearest.is_some()) {
        let (from, to) = (unit(&units, &row.from, &row.kind), unit(&units, &row.to, &row.kind));
        let range = range_of(&row.written, from);
        let step = number(&row.step);
        let (nearest, falls) = (row.nearest.as_ref().unwrap(), row.outside.as_ref().unwrap());
        for (bound, wanted, falls) in
            [(&range.lower, &nearest.0, &falls.0), (&range.upper, &nearest.1, &falls.1)]
        {
            let Some(bound) = bound else { continue };
            let rounded = Rounding::Nearest.to_step(&to.number_of(&bound.value), &step);
            assert_eq!(Some(&rounded), figure(wanted.as_deref()).as_ref(), "{} nearest", row.id);
            let is_outside = !range.contains(&to.value_of(&rounded));
            assert_eq!(is_outside, falls.as_deref() == Some("yes"), "{} outside", row.id);
            outside += usize::from(is_outside);
        }
    }
    assert!(outside >= 25, "plain rounding broke only {outside} limits");
}

#[test]
fn halves_go_to_the_even_neighbour_in_one_stage() {
    let table: Roundings = serde_yaml::from_str(ROUNDING).unwrap();
    assert!(table.numbers.len() >= 13);
    for row in &table.numbers {
        let rounded = Rounding::Nearest.to_step(&number(&row.value), &number(&row.step));
        assert_eq!(rounded, number(&row.nearest), "{} by {} ({})", row.value, row.step, row.source);
    }
}

#[test]
fn every_row_says_how_far_to_trust_it() {
    let known = ["read", "read second-hand", "computed", "from memory", "common practice"];
    let conversions: Conversions = serde_yaml::from_str(CONVERSIONS).unwrap();
    let roundings: Roundings = serde_yaml::from_str(ROUNDING).unwrap();
    for row in &conversions.rows {
        assert!(known.contains(&row.mark.as_str()), "{}", row.mark);
        let mark = row.printed_mark.as_deref();
        assert_eq!(
            mark.is_some_and(|mark| known.contains(&mark)),
            row.printed.is_some(),
            "{}",
            row.from
        );
    }
    let marks = roundings.limits.iter().map(|row| &row.mark);
    for mark in marks.chain(roundings.numbers.iter().map(|row| &row.mark)) {
        assert!(known.contains(&mark.as_str()), "{mark}");
    }
    assert!(!conversions.source.is_empty() && !roundings.source.is_empty());
}

/// All units, each the product of the factors of its definition.
fn defined() -> Units {
    let table: Definitions = serde_yaml::from_str(UNITS).unwrap();
    let mut units = Units::new();
    for row in &table.units {
        let kind = units.kind_named(&row.kind).unwrap_or_else(|| {
            units.add_kind(Kind { name: row.kind.clone(), difference: None, qualifier: None })
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

fn unit<'u>(units: &'u Units, name: &str, kind: &str) -> &'u Unit {
    let kind = units.kind_named(kind).unwrap_or_else(|| panic!("no kind {kind}"));
    let found = units.spelled(name).iter().find(|unit| units.unit(**unit).kind == kind);
    units.unit(*found.unwrap_or_else(|| panic!("no unit {name}")))
}

fn range_of(ends: &Ends, unit: &Unit) -> Range {
    let bound = |text: Option<&str>| {
        figure(text).map(|number| Bound { value: unit.value_of(&number), closed: true })
    };
    Range { lower: bound(ends.0.as_deref()), upper: bound(ends.1.as_deref()) }
}

/// A number rounded to the last digit of a printed one.
fn to_as_many_digits(value: &Exact, printed: &str) -> Exact {
    let decimals = printed.split_once('.').map_or(0, |(_, digits)| digits.len());
    let step = number(&format!("1/1{}", "0".repeat(decimals)));
    Rounding::Nearest.to_step(value, &step)
}

fn figure(text: Option<&str>) -> Option<Exact> {
    text.map(number)
}

fn number(text: &str) -> Exact {
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
struct Conversions {
    source: String,
    rows: Vec<Conversion>,
}

#[derive(Deserialize)]
struct Conversion {
    kind: String,
    value: String,
    from: String,
    to: String,
    exact: String,
    mark: String,
    printed: Option<String>,
    printed_mark: Option<String>,
}

#[derive(Deserialize)]
struct Roundings {
    source: String,
    limits: Vec<MovedLimit>,
    numbers: Vec<Rounded>,
}

#[derive(Deserialize)]
struct Ends(Option<String>, Option<String>);

#[derive(Deserialize)]
#[serde(untagged)]
enum Inward {
    Ends(Option<String>, Option<String>),
    Word(String),
}

#[derive(Deserialize)]
struct MovedLimit {
    id: String,
    kind: String,
    from: String,
    written: Ends,
    to: String,
    step: String,
    exact: Ends,
    inward: Option<Inward>,
    nearest: Option<Ends>,
    outside: Option<Ends>,
    mark: String,
}

#[derive(Deserialize)]
struct Rounded {
    value: String,
    step: String,
    nearest: String,
    source: String,
    mark: String,
}
