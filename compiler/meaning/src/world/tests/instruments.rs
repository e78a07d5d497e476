//! Instruments, tools, consumables.

use super::{clean, codes, library, only, told};
use locknut_graph::Prose;
use locknut_quantity::{Exact, Range, parse_exact};

fn exact(text: &str) -> Exact {
    parse_exact(text).unwrap()
}

#[test]
fn an_instrument_has_range_resolution_and_error() {
    let world = clean(
        "instrument feeler-gauge { measures length 0.03 .. 2 mm, resolution 0.01 mm, error 0.005 mm, calibrate every 12 months }",
    );
    let gauge = &world.instruments["feeler-gauge"];
    assert_eq!(gauge.range, Range::closed(exact("0.00003"), exact("0.002")));
    assert_eq!(gauge.range_written, "0.03 .. 2 mm");
    assert_eq!(gauge.resolution.as_ref().unwrap().value, exact("0.00001"));
    assert_eq!(gauge.error.as_ref().unwrap().fixed, exact("0.000005"));
    assert_eq!(gauge.error.as_ref().unwrap().written, "0.005 mm");
    assert_eq!((gauge.calibrate_months, gauge.applies), (Some(12), false));
    assert_eq!(world.units.unit(gauge.unit).name, "mm");
}

#[test]
fn errors_add_up_from_their_parts() {
    let world = clean(
        "instrument a { measures voltage 0 .. 500 V, error 0.5 % of reading plus 0.2 V }\n\
         instrument b { measures length 0 .. 100 mm, error 1 % of full scale }\n\
         instrument c { applies torque 20 .. 100 N·m, error 4 % of reading, calibrate every 1 year }",
    );
    let a = world.instruments["a"].error.clone().unwrap();
    assert_eq!(
        (a.fixed, a.of_reading, a.of_full_scale),
        (exact("0.2"), exact("0.005"), exact("0"))
    );
    let b = world.instruments["b"].error.clone().unwrap();
    assert_eq!(b.of_full_scale, exact("0.01"));
    let c = &world.instruments["c"];
    assert_eq!((c.applies, c.calibrate_months), (true, Some(12)));
    assert_eq!(c.error.as_ref().unwrap().written, "4 % of reading");
}

#[test]
fn a_thermometer_reads_points_and_errs_by_differences() {
    let world =
        clean("instrument t { measures temperature 0 .. 150 °C, resolution 1 °C, error 2 °C }");
    let t = &world.instruments["t"];
    assert_eq!(t.range, Range::closed(exact("273.15"), exact("423.15")));
    assert_eq!(t.error.as_ref().unwrap().fixed, exact("2"));
    let difference = world.units.kind_named("temperature-difference").unwrap();
    assert_eq!(t.resolution.as_ref().unwrap().kind, difference);
}

#[test]
fn a_pressure_gauge_says_gauge_once() {
    for kind in [
        "pressure-difference 0 .. 10 bar gauge",
        "gauge-pressure 0 .. 10 bar",
        "gauge-pressure 0 .. 10 bar gauge",
    ] {
        let world = clean(&format!(
            "instrument p {{ measures {kind}, resolution 0.1 bar, error 0.1 bar }}"
        ));
        let gauge = world.units.kind_named("gauge-pressure").unwrap();
        assert_eq!(world.instruments["p"].kind, gauge, "{kind}");
    }
}

#[test]
fn an_own_scale_is_a_kind_of_its_own() {
    let world = clean(
        "instrument durometer { scale ha \"Shore A\" 0 .. 100, resolution 1, error 2, calibrate every 12 months }\n\
         instrument second-one { scale ha \"Shore A\" 10 .. 90, resolution 1, error 3 }\n\
         value soft = 55 ha",
    );
    let durometer = &world.instruments["durometer"];
    assert_eq!(durometer.scale.as_deref(), Some("Shore A"));
    assert_eq!(durometer.kind, world.instruments["second-one"].kind);
    assert_eq!(durometer.kind, world.limits["soft"].limit.kind);
    assert_eq!(durometer.error.as_ref().unwrap().fixed, exact("2"));
    assert!(world.own_scales.contains_key(&durometer.kind));
    let other = "instrument d { scale ha \"Shore A\" 0 .. 100, resolution 1 }\n\
                 instrument e { scale hd \"Shore D\" 0 .. 100, resolution 1 }\n\
                 value a = 70 ha\nvalue d = 70 hd\nvalue mixed = a - d";
    let report = only(other);
    assert_eq!(report.code, "LN205");
    assert!(report.notes.iter().any(|note| note.contains("own scale")), "{}", told(&[report]));
    assert_eq!(codes("instrument d { scale mm \"Shore A\" 0 .. 100 }"), ["LN102"]);
}

#[test]
fn a_live_source_is_named_even_on_a_line_of_its_own() {
    let world = clean(
        "instrument v {\n  measures voltage 0 .. 1000 V, resolution 1 V, error 3 V\n  proved on \"a known live source\" before and after\n}",
    );
    let source = world.instruments["v"].proved_on.as_ref().map(Prose::written);
    assert_eq!(source.as_deref(), Some("a known live source"));
}

#[test]
fn what_is_wrong_with_an_instrument_is_told_at_its_place() {
    let cases = [
        ("instrument a { resolution 1 mm }", "LN111"),
        ("instrument a { measures length }", "LN111"),
        ("instrument a { measures lenght 0 .. 2 mm }", "LN101"),
        ("instrument a { measures length 0 .. 2 N·m }", "LN202"),
        ("instrument a { measures length 2 .. 0 mm }", "LN204"),
        ("instrument a { measures length 2 mm }", "LN210"),
        ("instrument a { measures length 0 .. 2 mm, resolution -1 mm }", "LN204"),
        ("instrument a { measures length 0 .. 2 mm, resolution 0 mm }", "LN204"),
        ("instrument a { measures length 0 .. 2 mm, error -1 mm }", "LN204"),
        ("instrument a { measures length 0 .. 2 mm, resolution 0.1 N }", "LN202"),
        ("instrument a { measures length 0 .. 2 mm, resoluton 0.1 mm }", "LN104"),
        ("instrument a { measures length 0 .. 2 mm, error 4 % of fullscale }", "LN104"),
        ("instrument a { measures length 0 .. 2 mm, calibrate every 12 mm }", "LN104"),
        ("instrument a { measures length 0 .. 2 mm, error 1 mm, error 2 mm }", "LN115"),
        ("instrument a { measures length 0 .. 2 mm, applies length 1 .. 2 mm }", "LN115"),
        ("instrument a { applies torque 1 .. 2 N·m, measures angle 1 .. 2 turns }", "LN115"),
        ("instrument a { measures resistance 0 .. 2 MΩ, applies voltage 500 N }", "LN202"),
        ("instrument a { measures resistance 0 .. 2 MΩ, applies voltige 500 V }", "LN101"),
        ("instrument a { measures gauge-pressure 0 .. 2 mm }", "LN202"),
    ];
    for (text, code) in cases {
        assert_eq!(codes(text), [code], "{text}");
    }
}

#[test]
fn a_tool_has_a_number_and_fits_a_thing() {
    let world = clean(
        "tool calliper-peg { special, number \"HC-4417\", fits calliper }\nmodel m { part calliper }",
    );
    let tool = &world.tools["calliper-peg"];
    assert!(tool.special);
    assert_eq!(tool.number.as_deref(), Some("HC-4417"));
    assert_eq!(tool.fits.as_deref(), Some("calliper"));
    let (world, model) = (&world, &world.models["m"]);
    let id = model.variable_named["calliper-peg"];
    assert_eq!(model.variables[usize::from(id.0)].values[1].words.name, "fitted");
    assert!(world.element_act(model, "calliper-peg", "fit").is_some());
    assert_eq!(codes("tool a { fits caliper }\nmodel m { part calliper }"), ["LN101"]);
    assert_eq!(codes("tool a { specal }"), ["LN104"]);
}

#[test]
fn sizes_are_ascending_and_keep_their_numbers() {
    let world = clean(
        "consumable shim-kit { sizes 0.30 mm \"HC-2\", 0.20 mm \"HC-1\",\n  0.50 mm \"HC-3\", shelf life 3 years }\nconsumable list { sizes 1, 2.5, 3 mm }\nconsumable oil { oils, fills }",
    );
    let kit = &world.consumables["shim-kit"];
    let sizes: Vec<_> = kit
        .sizes
        .iter()
        .map(|(size, number)| (size.written.as_str(), number.as_deref().unwrap()))
        .collect();
    assert_eq!(sizes, [("0.20 mm", "HC-1"), ("0.30 mm", "HC-2"), ("0.50 mm", "HC-3")]);
    assert_eq!(kit.shelf_life_months, Some(36));
    assert_eq!(world.consumables["list"].sizes[1].0.value, exact("0.0025"));
    assert!(world.consumables["oil"].purpose.contains("oils"));
    assert_eq!(codes("consumable a { sizes 1 mm, 2 N }"), ["LN205"]);
    assert_eq!(codes("consumable a { sizes 1 mm, 1.0 mm }"), ["LN115"]);
    assert_eq!(codes("consumable a { sizes 0 mm }"), ["LN204"]);
    assert_eq!(codes("consumable a { shelf live 3 years }"), ["LN104"]);
}

#[test]
fn two_with_one_name_are_told_with_both_places() {
    let report = only("tool a { special }\ninstrument a { measures length 0 .. 2 mm }");
    assert_eq!((report.code, report.labels.len()), ("LN102", 2));
    // A consumable may be called like a tool: nothing can name both in one place.
    clean("tool a { special }\nconsumable a { oils }");
}

#[test]
fn unused_things_are_warned_of_once_there_is_a_procedure() {
    let things = "value v = 5 mm\ntool t { special }\nmodel m { part p\n value w = 3 mm }\n";
    clean(things);
    let (_, reports) =
        library(&format!("{things}procedure x on m {{ step \"Take it off.\" {{ remove p }} }}"));
    let titles: Vec<&str> = reports.iter().map(|report| report.title.as_str()).collect();
    assert_eq!(
        titles,
        ["nothing uses the value v", "nothing uses the tool t", "nothing uses the value w"]
    );
}
