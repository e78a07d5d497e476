//! Laws that hold for all numbers, ranges and units.

use locknut_quantity::{
    Bound, Exact, Grid, Limit, Quantity, Range, Rounding, System, Unit, Units, inward, parse_exact,
    show, show_range, to_decimal,
};
use proptest::prelude::*;

fn whole(number: i64) -> Exact {
    Exact::from_integer(number.into())
}

/// Fractions of either sign, with nought and ties among them.
fn numbers() -> impl Strategy<Value = Exact> {
    prop_oneof![
        (-1_000_000i64..1_000_000, 1i64..10_000).prop_map(|(a, b)| Exact::new(a.into(), b.into())),
        (-200i64..200).prop_map(|k| Exact::new(k.into(), 20.into())),
    ]
}

fn above_nought() -> impl Strategy<Value = Exact> {
    (1i64..1_000_000, 1i64..1_000_000).prop_map(|(a, b)| Exact::new(a.into(), b.into()))
}

fn bounds() -> impl Strategy<Value = Option<Bound>> {
    proptest::option::weighted(
        0.8,
        (numbers(), any::<bool>()).prop_map(|(value, closed)| Bound { value, closed }),
    )
}

/// Any range: open, closed, unbounded, turned round.
fn ranges() -> impl Strategy<Value = Range> {
    (bounds(), bounds()).prop_map(|(lower, upper)| Range { lower, upper })
}

/// Any range with a value in it.
fn full_ranges() -> impl Strategy<Value = Range> {
    ranges().prop_map(|range| match (range.lower.clone(), range.upper.clone()) {
        (Some(lower), Some(upper)) if lower.value > upper.value => {
            Range { lower: Some(upper), upper: Some(lower) }
        }
        (Some(lower), Some(upper)) if lower.value == upper.value => {
            Range::closed(lower.value, upper.value)
        }
        _ => range,
    })
}

/// Ends on halves between 0 and 4, so that they often meet.
fn close_ranges() -> impl Strategy<Value = Range> {
    let bound = || {
        proptest::option::weighted(
            0.8,
            (0i64..=8, any::<bool>()).prop_map(|(halves, closed)| Bound {
                value: Exact::new(halves.into(), 2.into()),
                closed,
            }),
        )
    };
    (bound(), bound()).prop_map(|(lower, upper)| Range { lower, upper })
}

/// Eighths from −1 to 5: every place that a close range can tell apart, and some between any two ends.
fn places() -> Vec<Exact> {
    (-8i64..=40).map(|eighths| Exact::new(eighths.into(), 8.into())).collect()
}

/// Two units, each the other's counterpart; `zero` is nought for most.
fn two_units() -> impl Strategy<Value = Units> {
    let zero = || prop_oneof![3 => Just(whole(0)), 1 => numbers()];
    (above_nought(), zero(), above_nought(), zero()).prop_map(
        |(factor, zero, other, other_zero)| {
            let mut units = Units::new();
            let unit = |name: &str, factor, zero, system| Unit {
                name: name.into(),
                kind: Units::NUMBER,
                factor,
                zero,
                spellings: Vec::new(),
                system: Some(system),
                counterpart: None,
                close: false,
                source: None,
            };
            let a = units.add_unit(unit("a", factor, zero, System::Si));
            let b = units.add_unit(unit("b", other, other_zero, System::Us));
            units.set_counterpart(a, b);
            units.set_counterpart(b, a);
            units
        },
    )
}

fn systems() -> impl Strategy<Value = Option<System>> {
    prop_oneof![Just(None), Just(Some(System::Si)), Just(Some(System::Us))]
}

fn roundings() -> impl Strategy<Value = Rounding> {
    prop_oneof![Just(Rounding::Nearest), Just(Rounding::Up), Just(Rounding::Down)]
}

proptest! {
    #[test]
    fn there_and_back_is_exact(units in two_units(), number in numbers()) {
        let (a, b) = (&units.units()[1], &units.units()[2]);
        let there = b.number_of(&a.value_of(&number));
        prop_assert_eq!(a.number_of(&b.value_of(&there)), number);
    }

    #[test]
    fn decimal_text_is_read_back_as_it_was(digits in -1_000_000_000i64..1_000_000_000, decimals in 0u32..9) {
        let number = Exact::new(digits.into(), 10i64.pow(decimals).into());
        prop_assert_eq!(parse_exact(&to_decimal(&number, decimals)), Some(number));
    }

    #[test]
    fn decimal_text_has_its_digits_and_is_the_nearest(number in numbers(), decimals in 0u32..9) {
        let text = to_decimal(&number, decimals);
        let point = text.split_once('.').map_or(0, |(_, digits)| digits.len());
        prop_assert_eq!(point, usize::try_from(decimals).unwrap());
        let nought = text.trim_matches(['-', '0', '.']).is_empty();
        prop_assert!(!(nought && text.starts_with('-')), "{} is minus nought", text);
        let off = parse_exact(&text).unwrap() - number;
        let half = Exact::new(1.into(), (2 * 10i64.pow(decimals)).into());
        prop_assert!(off <= half && off >= -half);
    }

    #[test]
    fn rounding_lands_on_a_step_on_the_right_side(number in numbers(), step in above_nought(), way in roundings()) {
        let rounded = way.to_step(&number, &step);
        prop_assert!((&rounded / &step).is_integer());
        let off = &rounded - &number;
        match way {
            Rounding::Up => prop_assert!(off >= whole(0) && off < step),
            Rounding::Down => prop_assert!(off <= whole(0) && off > -&step),
            Rounding::Nearest => prop_assert!(&off * whole(2) <= step && &off * whole(-2) <= step),
        }
        prop_assert_eq!(way.to_step(&rounded, &step), rounded, "a rounded number stays");
    }

    #[test]
    fn ties_go_to_the_even_step(steps in -1000i64..1000, step in above_nought()) {
        let tie = (whole(steps) + Exact::new(1.into(), 2.into())) * &step;
        let rounded = Rounding::Nearest.to_step(&tie, &step) / step;
        prop_assert!((rounded / whole(2)).is_integer());
    }

    #[test]
    fn inward_is_never_outside(units in two_units(), range in ranges(), decimals in 0u32..6) {
        let unit = &units.units()[2];
        if let Some((lower, upper)) = inward(&range, unit, decimals) {
            prop_assert_eq!(lower.is_some(), range.lower.is_some());
            prop_assert_eq!(upper.is_some(), range.upper.is_some());
            let ends = Range {
                lower: lower.zip(range.lower.clone()).map(|(value, was)| Bound { value: unit.value_of(&value), ..was }),
                upper: upper.zip(range.upper.clone()).map(|(value, was)| Bound { value: unit.value_of(&value), ..was }),
            };
            prop_assert!(!ends.is_empty());
            prop_assert!(range.covers(&ends));
        }
    }

    #[test]
    fn a_shown_band_lies_in_the_written_one_and_keeps_most_of_it(
        units in two_units(), range in full_ranges(), decimals in 0u32..4, system in systems(), own in any::<bool>(),
    ) {
        let unit = units.spelled(if own { "a" } else { "b" })[0];
        let limit = Limit { range: range.clone(), kind: Units::NUMBER, unit, decimals, written: String::new() };
        let (lower, upper) = show_range(&units, &limit, system);
        prop_assert_eq!(lower.is_some(), range.lower.is_some());
        prop_assert_eq!(upper.is_some(), range.upper.is_some());
        for end in lower.iter().chain(&upper) {
            let shown = units.unit(end.unit);
            prop_assert_eq!(shown.value_of(&parse_exact(&end.digits).unwrap()), end.value.clone(), "digits say the value");
        }
        if range.single().is_some() {
            prop_assert_eq!(lower, upper, "a figure to set");
            return Ok(());
        }
        let drawn = Range {
            lower: lower.zip(range.lower.clone()).map(|(end, was)| Bound { value: end.value, ..was }),
            upper: upper.zip(range.upper.clone()).map(|(end, was)| Bound { value: end.value, ..was }),
        };
        prop_assert!(!drawn.is_empty());
        prop_assert!(range.covers(&drawn));
        if let (Some(width), Some(kept)) = (range.width(), drawn.width()) {
            prop_assert!(kept * whole(5) >= width * whole(4));
        }
    }

    #[test]
    fn a_shown_figure_is_within_a_hundredth(
        number in numbers(), factor in above_nought(), other in above_nought(), decimals in 0u32..4, system in systems(),
    ) {
        let mut units = Units::new();
        let unit = units.units()[0].clone();
        let a = units.add_unit(Unit { name: "a".into(), factor: factor.clone(), system: Some(System::Si), ..unit.clone() });
        let b = units.add_unit(Unit { name: "b".into(), factor: other, system: Some(System::Us), ..unit });
        units.set_counterpart(a, b);
        let value = number * factor;
        let written = Quantity { value: value.clone(), kind: Units::NUMBER, unit: a, decimals, written: String::new() };
        let shown = show(&units, &written, system);
        let off = &shown.value - &value;
        let size = if value < whole(0) { -&value } else { value };
        prop_assert!(&off * whole(100) <= size && &off * whole(-100) <= size);
        prop_assert_eq!(shown.digits.split_once('.').map_or(0, |(_, digits)| digits.len()), usize::try_from(shown.decimals).unwrap());
    }

    #[test]
    fn ranges_meet_as_sets_do(a in close_ranges(), b in close_ranges(), c in close_ranges()) {
        prop_assert_eq!(a.intersect(&b), b.intersect(&a));
        prop_assert_eq!(a.intersect(&b).intersect(&c), a.intersect(&b.intersect(&c)));
        prop_assert_eq!(a.intersect(&a), a.clone());
        for place in places() {
            let both = a.contains(&place) && b.contains(&place);
            prop_assert_eq!(a.intersect(&b).contains(&place), both);
        }
    }

    #[test]
    fn a_range_covers_what_it_contains(a in close_ranges(), b in close_ranges()) {
        // Eighths see every difference but beyond an end that is missing.
        let bounded = Range::closed(whole(-1), whole(5));
        let inside = b.intersect(&bounded);
        let all = places().iter().all(|place| !inside.contains(place) || a.contains(place));
        prop_assert_eq!(a.covers(&inside), all);
        prop_assert_eq!(a.is_empty(), places().iter().all(|place| !a.contains(place)));
        prop_assert!(a.covers(&a) && Range::default().covers(&a));
    }

    #[test]
    fn a_single_value_is_the_only_one(a in close_ranges()) {
        let held: Vec<Exact> = places().into_iter().filter(|place| a.contains(place)).collect();
        prop_assert_eq!(a.single(), if held.len() == 1 { held.first() } else { None });
    }

    #[test]
    fn a_grid_holds_what_it_snaps_to(origin in numbers(), step in above_nought(), value in numbers(), way in roundings()) {
        let grid = Grid::new(origin, step).unwrap();
        let snapped = grid.snap(&value, way);
        prop_assert!(grid.has(&snapped));
        prop_assert_eq!(grid.has(&value), snapped == value);
    }

    #[test]
    fn a_grid_counts_what_lies_in_a_range(range in close_ranges(), shift in 0i64..4) {
        let half = Exact::new(1.into(), 2.into());
        let grid = Grid::new(Exact::new(shift.into(), 4.into()), half).unwrap();
        let drawn = grid.draw_in(&range);
        let inside: Vec<Exact> =
            places().into_iter().filter(|place| grid.has(place) && range.contains(place)).collect();
        prop_assert!(inside.iter().all(|place| drawn.contains(place)));
        prop_assert!(range.covers(&drawn));
        if range.width().is_some() {
            prop_assert_eq!(grid.count_in(&range), Some(inside.len().into()));
            prop_assert_eq!(grid.values_in(&range, 100), Some(inside));
        } else {
            prop_assert_eq!(grid.count_in(&range), None);
        }
    }

    #[test]
    fn what_is_read_is_written_so_that_it_is_read_again(digits in "-?[0-9]{1,6}(\\.[0-9]{1,5})?", own in any::<bool>(), units in two_units()) {
        let name = if own { "a" } else { "b" };
        let read = units.read(&digits, Some(name), None, None).unwrap();
        let (number, unit) = read.written.split_once(' ').unwrap();
        prop_assert_eq!(units.read(number, Some(unit), None, Some(read.kind)), Ok(read.clone()));
        let shown = show(&units, &read, None);
        prop_assert_eq!(shown.digits.trim_start_matches('-'), unpadded(&digits));
    }

    #[test]
    fn no_text_at_all_brings_the_reader_down(number in ".{0,40}", unit in ".{0,30}", word in ".{0,8}", units in two_units()) {
        let read = units.read(&number, Some(&unit), Some(&word), Some(Units::NUMBER));
        prop_assert!(read.is_err(), "no unit here takes a word");
        let bare = units.read(&number, None, None, None);
        prop_assert_eq!(bare.is_ok(), parse_exact(&number).is_some() && number.len() <= 30);
        if let Ok(read) = units.read(&number, Some(&unit), None, None) {
            prop_assert!(["a", "b", ""].contains(&unit.as_str()), "{:?}", read);
        }
    }
}

/// Digits as they are shown: without a sign or noughts that lead.
fn unpadded(digits: &str) -> String {
    let plain = digits.trim_start_matches('-');
    let (whole, rest) = plain.split_at(plain.find('.').unwrap_or(plain.len()));
    let whole = whole.trim_start_matches('0');
    format!("{}{rest}", if whole.is_empty() { "0" } else { whole })
}
