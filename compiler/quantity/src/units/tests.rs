//! How a number with its unit is read.

use super::{ReadProblem, UnitProblem, Units};
use crate::Quantity;
use crate::vocabulary::{kind, number, vocabulary};

fn read(written: (&str, &str, &str), wanted: &str) -> (Units, Result<Quantity, ReadProblem>) {
    let units = vocabulary();
    let some = |text| Some(text).filter(|text: &&str| !text.is_empty());
    let wanted = some(wanted).map(|wanted| kind(&units, wanted));
    let read = units.read(written.0, some(written.1), some(written.2), wanted);
    (units, read)
}

fn value(written: (&str, &str, &str), wanted: &str) -> (String, String) {
    let (units, read) = read(written, wanted);
    let read = read.unwrap();
    (read.value.to_string(), units.kind(read.kind).name.clone())
}

fn problem(written: (&str, &str, &str), wanted: &str) -> UnitProblem {
    match read(written, wanted).1 {
        Err(ReadProblem::Unit(problem)) => problem,
        other => panic!("{other:?}"),
    }
}

#[test]
fn keyboard_spellings_mean_the_same_unit_and_stay_as_written() {
    let (units, quantity) = read(("22.50", "Nm", ""), "");
    let quantity = quantity.unwrap();
    assert_eq!(quantity.value, number("22.5"));
    assert_eq!(units.unit(quantity.unit).name, "N·m");
    assert_eq!((quantity.decimals, quantity.written.as_str()), (2, "22.50 Nm"));
    assert_eq!(read(("45", "°", ""), "").1.unwrap().written, "45°");
}

#[test]
fn degrees_are_a_point_on_the_scale_or_a_difference_as_is_wanted() {
    let named = |text: &str, kind: &str| (text.to_owned(), kind.to_owned());
    assert_eq!(value(("20", "°C", ""), ""), named("5863/20", "temperature"));
    assert_eq!(value(("20", "°C", ""), "temperature"), named("5863/20", "temperature"));
    assert_eq!(
        value(("20", "degC", ""), "temperature-difference"),
        named("20", "temperature-difference")
    );
}

#[test]
fn a_pressure_says_from_where_it_counts_and_a_difference_does_not() {
    let bar = |word, wanted| value(("2.5", "bar", word), wanted).1;
    assert_eq!(bar("gauge", ""), "gauge-pressure");
    assert_eq!(bar("absolute", "absolute-pressure"), "absolute-pressure");
    assert_eq!(bar("", "pressure-difference"), "pressure-difference");
    let found = vec![kind(&vocabulary(), "gauge-pressure")];
    assert_eq!(
        problem(("2.5", "bar", "gauge"), "pressure-difference"),
        UnitProblem::WrongKind { found }
    );
    let words =
        |words: [&str; 2]| UnitProblem::NeedsQualifier { words: words.map(str::to_owned).to_vec() };
    assert_eq!(problem(("2.5", "bar", ""), ""), words(["gauge", "absolute"]));
    assert_eq!(problem(("2.5", "bar", ""), "absolute-pressure"), words(["absolute", "gauge"]));
    assert_eq!(problem(("2.5", "bar", "high"), ""), words(["gauge", "absolute"]));
    assert_eq!(problem(("5", "mm", "gauge"), ""), UnitProblem::NoQualifier);
}

#[test]
fn gauge_and_absolute_are_never_mixed() {
    let units = vocabulary();
    let found = vec![kind(&units, "gauge-pressure")];
    assert_eq!(
        problem(("2.5", "bar", "gauge"), "absolute-pressure"),
        UnitProblem::WrongKind { found }
    );
}

#[test]
fn a_torque_is_no_energy_and_a_bare_number_no_torque() {
    let units = vocabulary();
    let wrong = |name| UnitProblem::WrongKind { found: vec![kind(&units, name)] };
    assert_eq!(problem(("5", "N·m", ""), "energy"), wrong("torque"));
    assert_eq!(problem(("5", "J", ""), "torque"), wrong("energy"));
    assert_eq!(problem(("5", "", ""), "torque"), wrong("number"));
    assert_eq!(problem(("5", "bar", ""), "torque"), wrong("pressure-difference"));
}

#[test]
fn percent_is_a_ratio_and_may_stand_for_a_number() {
    let named = |text: &str, kind: &str| (text.to_owned(), kind.to_owned());
    assert_eq!(value(("15", "%", ""), ""), named("3/20", "ratio"));
    assert_eq!(value(("15", "%", ""), "number"), named("3/20", "number"));
    assert_eq!(value(("0.15", "", ""), "number"), named("3/20", "number"));
    assert_eq!(value(("0.15", "", ""), ""), named("3/20", "number"));
}

#[test]
fn the_nearest_unit_is_offered() {
    for (typed, meant) in [
        ("NM", "N·m"),
        ("n.m", "N·m"),
        ("lbft", "lbf·ft"),
        ("MM", "mm"),
        ("Bar", "bar"),
        ("inhc", "inch"),
        ("degc", "°C"),
        ("℃℃℃℃℃", ""),
        ("furlong", ""),
        ("x", ""),
    ] {
        let near = Some(meant.to_owned()).filter(|meant| !meant.is_empty());
        assert_eq!(problem(("5", typed, ""), ""), UnitProblem::Unknown { near }, "{typed}");
    }
}

#[test]
fn of_equally_near_units_that_of_the_wanted_kind_is_offered() {
    let near = |near: &str| UnitProblem::Unknown { near: Some(near.to_owned()) };
    assert_eq!(problem(("5", "kn·m", ""), "torque"), near("N·m"));
    assert_eq!(problem(("5", "kn·m", ""), "length"), near("km"));
}

#[test]
fn a_number_is_one_and_no_longer_than_anybody_needs() {
    let unread = |text: &str| read((text, "mm", ""), "").1.unwrap_err();
    assert_eq!(unread("0,35"), ReadProblem::NotANumber);
    assert_eq!(unread(&"9".repeat(31)), ReadProblem::TooLong { most: 30 });
    assert!(read((&"9".repeat(30), "mm", ""), "").1.is_ok());
}

#[test]
fn a_unit_nobody_declared_is_that_of_bare_numbers() {
    let units = Units::default();
    assert_eq!(units.unit(super::UnitId(9)).name, "");
    assert_eq!(units.kind(super::KindId(9)).name, "number");
    assert_eq!(units.difference_of(Units::NUMBER), Units::NUMBER);
}

#[test]
fn a_doubled_spelling_is_one_meaning() {
    let mut units = Units::new();
    let mut unit = units.unit(Units::ONE).clone();
    unit.name = "pc".into();
    unit.spellings = vec!["pc".into(), "pcs".into()];
    units.add_unit(unit);
    assert_eq!(units.spelled("pc").len(), 1);
    assert_eq!(units.spellings().collect::<Vec<_>>(), ["pc", "pcs"]);
}

#[test]
fn a_unit_may_be_read_as_its_own_kind_and_as_those_that_borrow_it() {
    let units = vocabulary();
    let kinds = |spelling: &str| {
        let unit = units.spelled(spelling)[0];
        units.kinds_of(unit).map(|kind| units.kind(kind).name.as_str()).collect::<Vec<_>>()
    };
    assert_eq!(kinds("bar"), ["pressure-difference", "gauge-pressure", "absolute-pressure"]);
    // A temperature has units of its own: their zero lies elsewhere.
    assert_eq!(kinds("°C"), ["temperature-difference"]);
    assert_eq!(kinds("mm"), ["length"]);
}
