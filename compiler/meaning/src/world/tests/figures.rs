//! Quantities, limits and sums, with fixed figures.

use super::{clean, codes, library, only};
use crate::world::World;
use locknut_quantity::{Exact, Range, parse_exact};
use std::fmt::Write;

fn exact(text: &str) -> Exact {
    match text.split_once('/') {
        Some((above, below)) => parse_exact(above).unwrap() / parse_exact(below).unwrap(),
        None => parse_exact(text).unwrap(),
    }
}

/// The range of a limit, in base units.
fn range_of(limit: &str) -> Range {
    let world = clean(&format!("limit it = {limit}"));
    world.limits["it"].limit.range.clone()
}

/// The value of a figure in base units, and its kind's name.
fn value_of(figure: &str) -> (Exact, String) {
    let world = clean(&format!("value it = {figure}"));
    let limit = &world.limits["it"].limit;
    let value = limit.range.lower.clone().unwrap().value;
    (value, world.units.kind(limit.kind).name.clone())
}

fn in_base(figure: &str) -> Exact {
    value_of(figure).0
}

#[test]
fn a_figure_is_exact_in_the_base_unit_of_its_kind() {
    // International yard and pound agreement, 1959: 1 inch = 25.4 mm.
    assert_eq!(value_of("1 inch"), (exact("0.0254"), "length".to_owned()));
    // 1 lbf·ft = 0.45359237 kg × 9.80665 m/s² × 0.3048 m, exactly (NIST SP 811, B.8, gives 1.355 818).
    let foot_pound = exact("0.45359237") * exact("9.80665") * exact("0.3048");
    assert_eq!(value_of("1 lbf·ft"), (foot_pound, "torque".to_owned()));
    // t/K = (t/°F + 459.67)/1.8 (NIST SP 811, B.8): 68 °F is 20 °C is 293.15 K.
    assert_eq!(value_of("68 °F"), (exact("293.15"), "temperature".to_owned()));
    assert_eq!(value_of("20 °C"), (exact("293.15"), "temperature".to_owned()));
    // 1 psi = 1 lbf/inch² (NIST SP 811, B.8, gives 6894.757 Pa).
    let psi = exact("0.45359237") * exact("9.80665") / (exact("0.0254") * exact("0.0254"));
    assert_eq!(value_of("1 psi gauge"), (psi, "gauge-pressure".to_owned()));
}

#[test]
fn keyboard_spellings_mean_the_same() {
    for spelling in ["N·m", "N.m", "Nm"] {
        assert_eq!(in_base(&format!("22 {spelling}")), exact("22"));
    }
    assert_eq!(in_base("5 um"), in_base("5 µm"));
    assert_eq!(in_base("5 degC"), in_base("5 °C"));
    assert_eq!(range_of("22 +/- 2 Nm"), range_of("22 ± 2 N·m"));
}

#[test]
fn comparisons_have_open_and_closed_ends() {
    let mm = |text: &str| exact(text) / exact("1000");
    assert_eq!(range_of("at most 2 mm"), Range::up_to(mm("2"), true));
    assert_eq!(range_of("under 2 mm"), Range::up_to(mm("2"), false));
    assert_eq!(range_of("at least 2 mm"), Range::from(mm("2"), true));
    assert_eq!(range_of("over 2 mm"), Range::from(mm("2"), false));
    assert_eq!(range_of("0.2 .. 1.6 mm"), Range::closed(mm("0.2"), mm("1.6")));
    let open_below = range_of("over 0.2 to 0.5 mm");
    assert!(!open_below.contains(&mm("0.2")) && open_below.contains(&mm("0.5")));
}

#[test]
fn tolerances_are_laid_around_their_middle() {
    assert_eq!(range_of("22 ± 2 N·m"), Range::closed(exact("20"), exact("24")));
    assert_eq!(range_of("60 N·m ± 10 %"), Range::closed(exact("54"), exact("66")));
    assert_eq!(range_of("60 N·m ± 5 N·m"), Range::closed(exact("55"), exact("65")));
    let unequal = Range::closed(exact("0.0198"), exact("0.0201"));
    assert_eq!(range_of("20 mm +0.1/-0.2 mm"), unequal);
    let one_sided = |from, to| Range::closed(exact(from), exact(to));
    assert_eq!(range_of("20 mm +0.2/+0.1 mm"), one_sided("0.0201", "0.0202"));
    assert_eq!(range_of("20 mm -0.1/-0.2 mm"), one_sided("0.0198", "0.0199"));
    assert_eq!(range_of("20 mm 0/-0.2 mm"), one_sided("0.0198", "0.02"));
    assert_eq!(range_of("20 mm +0.021/0 mm"), one_sided("0.02", "0.020021"));
}

#[test]
fn after_plus_minus_a_temperature_is_a_difference() {
    let around = Range::closed(exact("291.15"), exact("295.15"));
    assert_eq!(range_of("20 °C ± 2 °C"), around);
    assert_eq!(range_of("20 ± 2 °C"), around);
}

#[test]
fn percent_around_percent_is_in_percent() {
    assert_eq!(range_of("50 ± 2 N·m"), Range::closed(exact("48"), exact("52")));
    let share = library("value half = 50 %\nlimit it = half ± 10 %").0;
    let range = share.limits["it"].limit.range.clone();
    // Of the value: ten percent of a half is a twentieth.
    assert_eq!(range, Range::closed(exact("0.45"), exact("0.55")));
}

#[test]
fn a_percentage_is_as_good_as_a_number() {
    let world = clean("value share = 60 %\nvalue full = 200 N·m\nvalue first-pass = share * full");
    assert_eq!(lower(&world, "first-pass"), exact("120"));
}

#[test]
fn a_pressure_says_its_zero_once() {
    let bar = Range::closed(exact("240000"), exact("260000"));
    assert_eq!(range_of("2.5 ± 0.1 bar gauge"), bar);
    assert_eq!(range_of("2.5 bar gauge ± 0.1 bar"), bar);
    assert_eq!(range_of("2.4 .. 2.6 bar absolute"), bar);
}

#[test]
fn figures_are_worked_out_from_each_other_in_any_order() {
    let world = clean(
        "limit usable = at most 102 % of new-length\nvalue new-length = links * 12.7 mm\nvalue links = 20",
    );
    let usable = &world.limits["usable"].limit;
    // 20 × 12.7 mm = 254 mm; 102 % of it is 259.08 mm.
    assert_eq!(usable.range, Range::up_to(exact("0.25908"), true));
    assert_eq!(usable.decimals, 2);
    assert_eq!(usable.written, "at most 102 % of new-length");
}

#[test]
fn folds_of_fixed_figures_are_worked_out() {
    assert_eq!(in_base("max(3 mm, 0.5 cm)"), exact("0.005"));
    assert_eq!(in_base("mean(1 mm, 2 mm, 6 mm)"), exact("0.003"));
    assert_eq!(in_base("spread(1 mm, 4 mm)"), exact("0.003"));
    assert_eq!(in_base("abs(2 mm - 5 mm)"), exact("0.003"));
    assert_eq!(value_of("spread(20 °C, 25 °C)"), (exact("5"), "temperature-difference".to_owned()));
}

#[test]
fn temperatures_differ_by_differences() {
    let kind = |figure: &str| value_of(figure).1;
    assert_eq!(kind("25 °C - 20 °C difference"), "temperature");
    assert_eq!(codes("value cooler = 25 °C - 20 °C"), ["LN221"]);
    let world = clean(
        "value warm = 25 °C\nvalue cold = 20 °C\nvalue rise = warm - cold\nvalue up = 5 °C + cold",
    );
    let kind = |name: &str| world.units.kind(world.limits[name].limit.kind).name.clone();
    assert_eq!((kind("rise"), kind("up")), ("temperature-difference".into(), "temperature".into()));
    assert_eq!(world.limits["rise"].limit.range.lower.clone().unwrap().value, exact("5"));
    let rise = world.limits["rise"].limit.unit;
    assert_eq!(world.units.unit(rise).name, "°C");
    assert_eq!(codes("value it = 20 °C\nvalue twice = it + it"), ["LN205"]);
    assert_eq!(codes("value it = 20 °C\nvalue twice = 2 * it"), ["LN206"]);
}

#[test]
fn kinds_do_not_mix() {
    assert_eq!(codes("value a = 5 mm\nvalue b = 3 N·m\nvalue c = a + b"), ["LN205"]);
    assert_eq!(codes("value a = 5 mm\nvalue c = a + 3 N·m"), ["LN202"]);
    assert_eq!(codes("value a = 5 mm\nvalue b = 3 N\nvalue c = a * b"), ["LN206"]);
    assert_eq!(codes("value a = 5 N·m\nvalue b = 3 J\nlimit c = a .. b"), ["LN202"]);
}

#[test]
fn a_missing_or_unknown_unit_is_told_with_its_mend() {
    let report = only("limit a = 5 .. 3.5 foo");
    assert_eq!(report.code, "LN201");
    let report = only("value a = 5 mm\nvalue b = a + 3");
    assert_eq!(report.code, "LN208");
    let report = only("value a = 5 mIle");
    assert_eq!(report.mends[0].edits.first().map(|edit| edit.text.as_str()), Some("mile"));
}

#[test]
fn a_bare_pressure_is_told_with_both_mends() {
    let report = only("value a = 2.5 bar");
    assert_eq!(report.code, "LN203");
    let mends: Vec<_> = report.mends.iter().filter_map(|mend| mend.edits.first()).collect();
    assert_eq!(
        mends.iter().map(|edit| edit.text.as_str()).collect::<Vec<_>>(),
        ["2.5 bar gauge", "2.5 bar absolute"]
    );
    assert_eq!(codes("value a = 5 mm gauge"), ["LN211"]);
}

#[test]
fn impossible_figures_are_refused() {
    let report = only("limit a = 5 .. 3 mm");
    assert_eq!(report.code, "LN204");
    assert_eq!(report.mends[0].edits.first().map(|edit| edit.text.as_str()), Some("3 .. 5 mm"));
    assert_eq!(codes("limit a = over 3 to 3 mm"), ["LN204"]);
    assert_eq!(codes("value a = 5 mm / 0"), ["LN204"]);
    assert_eq!(codes("limit a = 5 ± -1 mm"), ["LN204"]);
    assert_eq!(codes(&format!("value a = {} mm", "9".repeat(400))), ["LN204"]);
    assert_eq!(codes("value a = 5 .. 6 mm"), ["LN210"]);
    assert_eq!(codes("value b = 2 mm\nvalue a = 5 mm of b"), ["LN204"]);
}

#[test]
fn circles_of_figures_are_told_once() {
    assert_eq!(codes("value a = b + 1 mm\nvalue b = a + 1 mm\nvalue c = a"), ["LN103"]);
    assert_eq!(codes("value a = a"), ["LN103"]);
}

#[test]
fn what_a_broken_figure_leads_to_stays_quiet() {
    assert_eq!(
        codes("value a = 5 foo\nlimit b = at most a\nlimit c = at most b + 1 mm"),
        ["LN201"]
    );
}

#[test]
fn squares_of_squares_end_in_a_finding() {
    let mut text = "value a0 = 99999999\n".to_owned();
    for level in 1..40 {
        writeln!(text, "value a{level} = a{0} * a{0}", level - 1).unwrap();
    }
    assert_eq!(codes(&text), ["LN204"]);
}

#[test]
fn long_sums_end_in_a_finding() {
    let sum = vec!["1 mm"; 150].join(" + ");
    assert_eq!(codes(&format!("value a = {sum}")), ["LN114"]);
}

#[test]
fn units_lead_to_their_base_in_any_order_of_lines() {
    let world =
        clean("unit cubit : length = 6 palm\nunit palm : length = 76.2 mm\nvalue a = 1 cubit");
    assert_eq!(lower(&world, "a"), exact("0.4572"));
    assert_eq!(codes("unit a : length = 2 b\nunit b : length = 2 a"), ["LN209"]);
    assert_eq!(codes("unit a : length = 2 nothing"), ["LN209"]);
    assert_eq!(codes("unit a : length = 2 kg"), ["LN209"]);
    assert_eq!(codes("unit a : lenght = 2 mm"), ["LN101"]);
    assert_eq!(codes("unit a : length = 0 mm"), ["LN204"]);
    assert_eq!(codes("unit mm : length = 2 m"), ["LN102"]);
}

fn lower(world: &World, name: &str) -> Exact {
    world.limits[name].limit.range.lower.clone().unwrap().value
}
