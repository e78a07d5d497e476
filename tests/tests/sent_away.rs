//! What an outcome has sent away does not stand on the sheet behind it: rows of choices and of limits, sizes that are laid out.

use locknut_library::{Checked, compose};
use locknut_tests::mended::checked;

fn sheet_of(checked: &Checked) -> String {
    let sheet = |one| locknut_sheet::text(&compose(checked, one, "en", None).sheet);
    checked.procedures.first().map(sheet).unwrap_or_default().replace('\u{a0}', " ")
}

/// A bench with a gauge, shims and a table; the lines of its one procedure.
fn bench(lines: &str) -> String {
    let source = format!(
        r#"instrument feeler {{ measures length 0 .. 20 mm, resolution 0.1 mm, error 0.05 mm }}
instrument scale {{ measures force 0 .. 500 N, resolution 5 N, error 2 N }}
consumable shims {{ sizes 1.0 mm "A", 2.0 mm "B", 3.0 mm "C" }}
table force-of : length -> force {{ 2 mm -> 100 N, 4 mm -> 200 N, between in proportion, per "Drawing" }}
model bench {{ title "Bench" }}
procedure look on bench {{
  title "Look"
{lines}
}}
"#
    );
    let checked = checked(&source);
    assert!(!checked.has_errors(), "{:?}", checked.reports);
    sheet_of(&checked)
}

/// Each row of the table with this head.
fn rows(said: &str, head: &str) -> Vec<String> {
    let behind = said.lines().map(str::trim).skip_while(|line| !line.starts_with(head)).skip(1);
    behind.take_while(|line| line.contains(" | ")).map(str::to_owned).collect()
}

const CHOICE: &str =
    "choose shim from shims so that play is 0 .. 1.1 mm, where play = gap - shim, prefer largest";

#[test]
fn a_choice_behind_a_limit_has_rows_for_what_was_accepted_alone() {
    let said = bench(&format!(
        r#"measure gap using feeler, expect 0 .. 8 mm {{
             accept 2.0 .. 4.0 mm
             otherwise refer to "The maker"
           }}
           {CHOICE}"#
    ));
    assert_eq!(rows(&said, "Gap |"), ["2.0 to 2.9 mm | 2.0 mm (B)", "3.0 to 4.0 mm | 3.0 mm (C)"]);
    assert!(said.contains("Shims | 2.0 mm (B), 3.0 mm (C)"), "no A is laid out: {said}");
}

#[test]
fn a_choice_in_an_arm_has_rows_for_the_arm_alone() {
    let said = bench(&format!(
        r#"measure gap using feeler, expect 0 .. 8 mm {{
             at most 2 mm -> go on
             over 2 to 4 mm -> {{ {CHOICE} }} then go on
             over 4 mm -> refer to "The maker"
           }}"#
    ));
    assert_eq!(rows(&said, "Gap |"), ["2.1 to 2.9 mm | 2.0 mm (B)", "3.0 to 4.0 mm | 3.0 mm (C)"]);
}

#[test]
fn where_the_job_goes_on_outside_the_limit_too_all_rows_stay() {
    let said = bench(&format!(
        r#"measure gap using feeler, expect 0 .. 8 mm {{
             accept 2.0 .. 4.0 mm
             otherwise go on noting "Odd."
           }}
           {CHOICE}
           otherwise refer to "The maker""#
    ));
    assert_eq!(rows(&said, "Gap |").len(), 5, "{said}");
}

const TWICE: &str = r#"measure gap using feeler, expect 0 .. 8 mm
           measure gup using feeler, expect 0 .. 8 mm
           check twice = gap + gup {
             accept 2.0 .. 4.0 mm
             otherwise refer to "The maker"
           }"#;

#[test]
fn what_was_accepted_of_a_worked_out_value_counts_for_what_is_worked_out_from_it() {
    let said = bench(&format!("{TWICE}\n{}", CHOICE.replace("gap", "twice")));
    assert_eq!(
        rows(&said, "Twice |"),
        ["2.0 to 2.9 mm | 2.0 mm (B)", "3.0 to 4.0 mm | 3.0 mm (C)"]
    );
    // Turned round and moved, too: 10 mm less the sum is 6 to 8 mm.
    let turned = "choose shim from shims so that play is 4 .. 5.1 mm, where play = 10 mm - twice - shim, prefer largest";
    let turned = bench(&format!("{TWICE}\n{turned}"));
    assert!(!turned.contains("nothing fits"), "{turned}");
}

#[test]
fn rows_by_what_is_worked_out_are_left_out_where_nobody_comes_to_them() {
    let by = "choose shim by twice from shims {
      at most 1.5 mm -> 1.0 mm
      over 1.5 to 2.5 mm -> 2.0 mm
      over 2.5 mm -> 3.0 mm
    }";
    let said = bench(&format!("{TWICE}\n{by}"));
    assert_eq!(
        rows(&said, "Twice |"),
        ["over 1.5 up to 2.5 mm | 2.0 mm (B)", "over 2.5 mm | 3.0 mm (C)"]
    );
}

#[test]
fn a_limit_that_a_table_gives_has_rows_for_what_was_accepted_alone() {
    let said = bench(
        r#"measure gap using feeler, expect 2 .. 4 mm {
             accept at most 2.2 mm
             otherwise refer to "The maker"
           }
           measure pull using scale, expect 0 .. 400 N {
             accept at most force-of(gap)
             otherwise refer to "The maker"
           }"#,
    );
    let rows = rows(&said, "Gap | Accept");
    assert_eq!(rows.first().map(String::as_str), Some("2.0 mm | at most 100 N"), "{said}");
    assert_eq!(rows.last().map(String::as_str), Some("2.2 mm | at most 110 N"), "{said}");
}
