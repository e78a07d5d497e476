//! Choices against brute force: every reading, every stack, every preference; see `examples/choices`.

#[path = "../examples/choices/main.rs"]
#[expect(dead_code, reason = "the example prints what is compared here")]
mod choices;

use choices::{Random, compared, compared_table};
use locknut_library::{check_in_memory, compose};
use locknut_tests::files;

#[test]
fn every_choice_is_what_trying_every_stack_comes_to() {
    let mut random = Random(7);
    let (mut readings, mut fitting, mut nothing, mut never) = (0, 0, 0, 0);
    for _ in 0..150 {
        let one = compared(&mut random);
        never += usize::from(one["never"] == true);
        for row in one["rows"].as_array().expect("rows") {
            readings += 1;
            fitting += usize::from(row[1].is_array());
            nothing += usize::from(row[1].is_null());
        }
    }
    assert!(
        readings > 1_500 && fitting > 500 && nothing > 500 && never > 0,
        "{readings} {fitting} {nothing} {never}"
    );
}

#[test]
fn every_table_says_at_every_reading_what_its_rows_say() {
    let mut random = Random(11);
    let tables = (0..100).filter(|_| compared_table(&mut random)["cases"].is_array()).count();
    assert!((50..100).contains(&tables), "{tables} of 100 have no two rows for one reading");
}

type Double = fn(i64, i64) -> i64;

/// Several points: what must be covered is all that they can come to together, and one that stands twice is one.
#[test]
fn what_several_points_come_to_is_covered_as_it_is_by_every_pair_of_readings() {
    // Of twice the value, so that a mean of two is whole.
    let forms: [(&str, Double); 6] = [
        ("mean(gap)", |a, b| a + b),
        ("max(gap)", |a, b| 2 * a.max(b)),
        ("max(gap) - min(gap)", |a, b| 2 * (a - b).abs()),
        ("gap at front + gap at rear", |a, b| 2 * (a + b)),
        ("gap at front - gap at front + min(gap)", |a, b| 2 * a.min(b)),
        ("gap at front - gap at rear - gap at front", |_, b| -2 * b),
    ];
    let mut met = [0, 0];
    for (form, double) in forms {
        for (first, last, lower, upper) in
            [(10, 40, 0, 10), (10, 40, 0, 20), (20, 30, -5, 5), (20, 30, 5, 30), (0, 15, -40, 10)]
        {
            let sizes = [5, 10, 20, 30, 45];
            let readings = || (first..=last).step_by(5);
            let fits = |of: i64| {
                sizes.iter().any(|size| (2 * lower..=2 * upper).contains(&(of - 2 * size)))
            };
            let pairs = || readings().flat_map(|a| readings().map(move |b| double(a, b)));
            let (covered, never) = (pairs().all(fits), !pairs().any(fits));
            let wanted = if never {
                "LN315"
            } else if covered {
                ""
            } else {
                "LN313"
            };
            let number = |value: i64| format!("{}.{:02}", value / 100, value % 100);
            let signed =
                |value: i64| if value < 0 { format!("-{}", number(-value)) } else { number(value) };
            let source = format!(
                "instrument gauge {{ measures length 0 .. 9 mm, resolution 0.05 mm, error 0.05 mm }}
model bench {{ title \"Bench\" }}
procedure choose-it on bench {{
  title \"Choose it\"
  measure gap at front, rear using gauge, expect {} .. {} mm
  choose size from 0.05, 0.10, 0.20, 0.30, 0.45 mm
    so that rest is {} .. {} mm, where rest = {form} - size, prefer largest
}}
",
                number(first), number(last), signed(lower), signed(upper)
            );
            let checked = check_in_memory(&[("one.lkn".to_owned(), source.clone())].into());
            let found: Vec<&str> = checked.reports.iter().map(|report| report.code).collect();
            assert_eq!(found.join(" "), wanted, "{source}");
            met[usize::from(covered)] += 1;
        }
    }
    assert!(met.iter().all(|count| *count > 5), "{met:?}");
}

/// What a fitter reads of a stack and of a table; read a changed snapshot aloud before you accept it.
#[test]
fn a_choice_is_looked_up_on_the_sheet() {
    let checked = check_in_memory(&files::library("examples"));
    for (name, language) in [("shim-wheel", "en"), ("set-guide", "en")] {
        let procedure = checked.procedures.iter().find(|one| one.name == name).expect("declared");
        let composed = compose(&checked, procedure, language, None);
        insta::with_settings!({ snapshot_path => "../sheets", prepend_module_to_snapshot => false }, {
            insta::assert_snapshot!(format!("{name}.{language}"), locknut_sheet::text(&composed.sheet));
        });
    }
}

/// Spacers of 3, 5 and 8 mm: a gap of 4 mm takes 5 mm, and no gap takes 3 mm (common practice).
#[test]
fn a_spacer_is_the_smallest_that_is_not_less_than_the_gap() {
    let source = "instrument rule { measures length 0 .. 20 mm, resolution 1 mm, error 1 mm }
model fence { title \"Fence\" }
procedure space on fence {
  title \"Fence: space a board\"
  measure gap using rule, expect 0 .. 8 mm
  choose spacer from 3, 5, 8 mm
    so that over is at least 0 mm, where over = spacer - gap, prefer smallest
}
";
    let checked = check_in_memory(&[("fence.lkn".to_owned(), source.to_owned())].into());
    assert!(checked.reports.is_empty(), "{:?}", checked.reports);
    let composed = compose(&checked, checked.procedure("space").expect("declared"), "en", None);
    let sheet = locknut_sheet::text(&composed.sheet).replace('\u{a0}', " ");
    for row in ["0 to 3 mm | 3 mm", "4 to 5 mm | 5 mm", "6 to 8 mm | 8 mm"] {
        assert!(sheet.contains(row), "{row}\n{sheet}");
    }
}

/// Where several points decide and no figure of few digits comes of them (a mean of three), the line says how to work it out, and what may be put
/// together.
#[test]
fn a_stack_by_several_points_is_said_as_a_worked_line() {
    let source = "instrument gauge { measures length 0 .. 9 mm, resolution 0.05 mm, error 0.05 mm }
consumable rings { sizes 0.10 mm \"R-01\", 0.40 mm \"R-04\" }
model bench { title \"Bench\" }
procedure choose-it on bench {
  title \"Choose it\"
  measure gap at front, middle, rear using gauge, expect 0.20 .. 0.90 mm
  choose up to 3 of pile from rings each once
    so that rest is 0.00 .. 0.40 mm, where rest = mean(gap) - pile, prefer fewest
}
procedure by-table on bench {
  title \"Choose it by a table\"
  measure width at front, rear using gauge, expect 0.20 .. 0.90 mm
  choose ring by max(width) from rings {
    at most 0.50 mm -> 0.10 mm
    over 0.50 mm    -> 0.40 mm
  }
}
";
    let checked = check_in_memory(&[("one.lkn".to_owned(), source.to_owned())].into());
    assert!(!checked.has_errors(), "{:?}", checked.reports);
    let wanted: [(usize, &str, &[&str]); 4] = [
        (
            0,
            "en",
            &[
                "the one of the fewest pieces",
                "Up to 3 may be put together, each size once; pile is their sum.",
            ],
        ),
        (0, "de", &["Die aus den wenigsten Stücken", "jede Größe einmal; pile ist ihre Summe."]),
        (
            1,
            "en",
            &[
                "Greatest width | Ring",
                "at most 0.50 mm | 0.10 mm (R-01)",
                "over 0.50 mm | 0.40 mm (R-04)",
            ],
        ),
        (1, "de", &["höchstens 0,50 mm | 0,10 mm (R-01)"]),
    ];
    for (at, language, all) in wanted {
        let procedure = if at == 0 { "choose-it" } else { "by-table" };
        let one = checked.procedures.iter().find(|one| one.name == procedure).expect("compiled");
        let text = locknut_sheet::text(&compose(&checked, one, language, None).sheet);
        let text = text.replace(['\u{a0}', '\u{202f}'], " ");
        for said in all {
            assert!(text.contains(said), "“{said}” is not in\n{text}");
        }
    }
}
