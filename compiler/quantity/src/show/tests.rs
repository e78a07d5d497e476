//! What a reader sees of a figure and of a limit.

use crate::vocabulary::{kind, number, vocabulary};
use crate::{
    Bound, Limit, Quantity, Range, Rounding, System, Units, decimals_in, show, show_arm, show_range,
};

fn quantity(units: &Units, written: &str, unit: &str, of: &str) -> Quantity {
    units.read(written, Some(unit), None, Some(kind(units, of))).unwrap()
}

/// A limit of two ends in the author's unit; an empty text is no end.
fn limit(units: &Units, (lower, upper): (&str, &str), unit: &str, of: &str) -> Limit {
    let end = |text: &str| {
        let figure = Some(text).filter(|text| !text.is_empty())?;
        Some(quantity(units, figure, unit, of))
    };
    let (lower, upper) = (end(lower), end(upper));
    let any = lower.clone().or(upper.clone()).unwrap();
    let decimals = |end: &Option<Quantity>| end.as_ref().map_or(0, |end| end.decimals);
    let bound = |end: &Option<Quantity>| {
        end.as_ref().map(|end| Bound { value: end.value.clone(), closed: true })
    };
    Limit {
        range: Range { lower: bound(&lower), upper: bound(&upper) },
        kind: any.kind,
        unit: any.unit,
        decimals: decimals(&lower).max(decimals(&upper)),
        written: String::new(),
    }
}

fn seen(written: &str, unit: &str, of: &str, system: System) -> String {
    let units = vocabulary();
    let shown = show(&units, &quantity(&units, written, unit, of), Some(system));
    format!("{} {}", shown.digits, units.unit(shown.unit).printed())
}

fn band(ends: (&str, &str), unit: &str, of: &str, system: System) -> String {
    let units = vocabulary();
    let (lower, upper) = show_range(&units, &limit(&units, ends, unit, of), Some(system));
    let unit = lower.as_ref().or(upper.as_ref()).map(|end| units.unit(end.unit).printed());
    let digits = |end: Option<crate::Shown>| end.map(|end| end.digits).unwrap_or_default();
    format!("{}..{} {}", digits(lower), digits(upper), unit.unwrap_or_default())
}

#[test]
fn a_figure_in_the_readers_own_unit_stays_as_it_is() {
    for (figure, unit, of) in
        [("10", "min", "time"), ("6.50", "L", "volume"), ("0.00", "mm", "length")]
    {
        assert_eq!(seen(figure, unit, of, System::Si), format!("{figure} {unit}"));
    }
    assert_eq!(seen("10", "min", "time", System::Us), "10 min");
}

#[test]
fn a_figure_goes_to_the_nearest_with_no_more_digits_than_it_can_bear() {
    let us = |figure, unit, of| seen(figure, unit, of, System::Us);
    assert_eq!(us("6.5", "L", "volume"), "1.72 US gal");
    assert_eq!(us("60", "N·m", "torque"), "44.3 lbf·ft");
    assert_eq!(us("60000", "km", "length"), "37280 mile");
    assert_eq!(us("1240", "mm", "length"), "48.8 inch");
    assert_eq!(us("0.35", "mm", "length"), "0.0138 inch");
    assert_eq!(us("20", "kN", "force"), "4500 lbf");
}

#[test]
fn a_coarse_figure_gets_the_digits_that_keep_it_true() {
    assert_eq!(seen("1", "inch", "length", System::Si), "25.4 mm");
    assert_eq!(seen("1", "m", "length", System::Us), "3.3 ft");
    assert_eq!(seen("1", "mm", "length", System::Us), "0.039 inch");
    assert_eq!(seen("36", "ft", "length", System::Si), "11.0 m");
}

#[test]
fn a_temperature_moves_with_its_zero_and_a_difference_by_nine_fifths_alone() {
    assert_eq!(seen("20", "°C", "temperature", System::Us), "68 °F");
    assert_eq!(seen("20", "°C", "temperature-difference", System::Us), "36 °F");
    assert_eq!(seen("10", "°C", "temperature-difference", System::Us), "18 °F");
    assert_eq!(seen("-40", "°C", "temperature", System::Us), "-40 °F");
    assert_eq!(seen("0", "°F", "temperature", System::Si), "-17.8 °C");
}

#[test]
fn a_limit_goes_inward() {
    let us = |ends, unit, of| band(ends, unit, of, System::Us);
    assert_eq!(us(("", "0.15"), "mm", "length"), "..0.0059 inch");
    assert_eq!(us(("20", "24"), "N·m", "torque"), "14.8..17.7 lbf·ft");
    assert_eq!(us(("0.10", "0.45"), "mm", "length"), "0.0040..0.0177 inch");
    assert_eq!(us(("2", ""), "m", "length"), "6.6.. ft");
    assert_eq!(us(("", "25"), "kg", "mass"), "..55 lb");
    assert_eq!(us(("", "2"), "bar", "pressure-difference"), "..29 psi");
}

#[test]
fn a_narrow_band_gets_the_digits_that_keep_most_of_it() {
    assert_eq!(band(("2.2", "2.4"), "bar", "pressure-difference", System::Us), "32.0..34.8 psi");
    assert_eq!(band(("0.0020", "0.0021"), "inch", "length", System::Si), "0.0508..0.0533 mm");
}

#[test]
fn nought_is_nought() {
    assert_eq!(band(("0", "0.5"), "mm", "length", System::Si), "0..0.5 mm");
    assert_eq!(band(("0", "0.5"), "mm", "length", System::Us), "0..0.019 inch");
    assert_eq!(band(("", "0"), "mm", "length", System::Us), "..0 inch");
    assert_eq!(band(("-5", "0"), "°C", "temperature", System::Us), "23..32 °F");
}

#[test]
fn a_limit_of_one_value_is_a_figure_to_set() {
    let us = |ends, unit, of| band(ends, unit, of, System::Us);
    assert_eq!(us(("20", "20"), "mm", "length"), "0.79..0.79 inch");
    assert_eq!(us(("450", "450"), "N·m", "torque"), "331.9..331.9 lbf·ft");
}

#[test]
fn a_computed_limit_keeps_its_width_in_its_own_unit() {
    let units = vocabulary();
    let range = Range::plus_minus_percent(&number("22"), &number("3")).unwrap();
    let limit = Limit { range, ..limit(&units, ("1", "2"), "N·m", "torque") };
    let (lower, upper) = show_range(&units, &limit, None);
    assert_eq!((lower.unwrap().digits, upper.unwrap().digits), ("21.4".into(), "22.6".into()));
}

#[test]
fn a_limit_without_ends_or_without_values_shows_no_digits_too_many() {
    let units = vocabulary();
    let any = Limit { range: Range::default(), ..limit(&units, ("1", "2"), "mm", "length") };
    assert_eq!(show_range(&units, &any, Some(System::Us)), (None, None));
    assert_eq!(band(("5", "1"), "mm", "length", System::Us), "0.20..0.03 inch");
}

#[test]
fn a_field_for_a_reading_has_steps_no_coarser_than_the_instruments() {
    let units = vocabulary();
    let unit = |name: &str| units.spelled(name)[0];
    assert_eq!(decimals_in(&units, unit("mm"), 2, unit("inch")), 4);
    assert_eq!(decimals_in(&units, unit("inch"), 3, unit("mm")), 2);
    assert_eq!(decimals_in(&units, unit("bar"), 0, unit("psi")), 0);
    assert_eq!(decimals_in(&units, unit("mm"), 2, unit("mm")), 2);
}

/// `(lower, lower closed, upper, upper closed)` in an author's unit.
fn arm(units: &Units, ends: (&str, bool, &str, bool), unit: &str, of: &str) -> Limit {
    let (lower, lower_closed, upper, upper_closed) = ends;
    let mut limit = limit(units, (lower, upper), unit, of);
    let shut = |bound: &mut Option<Bound>, closed| {
        if let Some(bound) = bound {
            bound.closed = closed;
        }
    };
    shut(&mut limit.range.lower, lower_closed);
    shut(&mut limit.range.upper, upper_closed);
    limit
}

#[test]
fn arms_that_meet_share_one_figure_and_no_reading_changes_sides() {
    let units = vocabulary();
    let cases = [
        ("4.05", true, "kN", "force", 2),
        ("4.05", false, "kN", "force", 2),
        ("0.20", true, "mm", "length", 2),
        ("0.20", false, "mm", "length", 2),
        ("81.3", true, "°C", "temperature", 1),
        ("2.5", true, "bar", "pressure-difference", 1),
    ];
    for (edge, lower_takes, unit, of, decimals) in cases {
        let below = arm(&units, ("", true, edge, lower_takes), unit, of);
        let above = arm(&units, (edge, !lower_takes, "", true), unit, of);
        let all = [&below, &above];
        let shown = |limit| show_arm(&units, limit, &all, decimals, Some(System::Us));
        let (low, high) = (shown(&below).1.unwrap(), shown(&above).0.unwrap());
        assert_eq!(low, high, "one figure for both: {edge} {unit}");
        let to = units.unit(low.unit);
        let digits = decimals_in(&units, below.unit, decimals, low.unit);
        let step = crate::round::ten_to(-i64::from(digits));
        let near = Rounding::Nearest.to_step(&to.number_of(&low.value), &step);
        for away in -200_i64..=200 {
            let number = &near + &step * crate::Exact::from_integer(away.into());
            let value = to.value_of(&number);
            let printed = if lower_takes { value <= low.value } else { value < low.value };
            assert_eq!(printed, below.range.contains(&value), "{number} {}", to.name);
        }
    }
}

#[test]
fn an_arm_of_one_value_is_nearest_and_so_are_its_neighbours() {
    let units = vocabulary();
    let under = arm(&units, ("", true, "20", false), "mm", "length");
    let at = arm(&units, ("20", true, "20", true), "mm", "length");
    let over = arm(&units, ("20", false, "", true), "mm", "length");
    let all = [&under, &at, &over];
    let shown = |limit| show_arm(&units, limit, &all, 0, Some(System::Us));
    let figure = shown(&at).0.unwrap();
    assert_eq!(figure.digits, "0.787");
    assert_eq!(shown(&at).1.as_ref(), Some(&figure));
    assert_eq!(shown(&under).1.as_ref(), Some(&figure));
    assert_eq!(shown(&over).0.as_ref(), Some(&figure));
}
