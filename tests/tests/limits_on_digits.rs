//! Limits that a sheet prints to be read lie on the digits of the gauge, and sort its readings as the program does.

#[cfg(test)]
mod limits_on_digits {
    use locknut_job::{Answer, Job, Refused};
    use locknut_library::{Checked, compose};
    use locknut_tests::mended::checked;

    /// The limit goes 3.3 N a degree, and the gauge shows every second newton.
    fn source(how: &str) -> String {
        accepting("± 41 N", &format!("pull-at(air){how}"))
    }

    fn accepting(band: &str, limit: &str) -> String {
        format!(
            r#"
instrument puller {{ measures force 0 .. 600 N, resolution 2 N, error 2 N }}
instrument probe {{ measures temperature -10 .. 40 °C, resolution 1 °C, error 1 °C }}
table pull-at : temperature -> force {{
  10 °C -> 300 {band}
  20 °C -> 333 {band}
  between in proportion
}}
model chain {{ title "Chain" }}
procedure look on chain {{
  title "Look"
  measure air using probe, expect 10 .. 20 °C
  measure pull using puller, expect 200 .. 500 N {{
    accept {limit}
    otherwise refer to "the smith"
  }}
}}
"#
        )
    }

    fn sheet_of(checked: &Checked) -> String {
        let one = checked.procedures.first().expect("a procedure");
        let sheet = compose(checked, one, "en", None).sheet;
        locknut_sheet::text(&sheet).replace('\u{a0}', " ")
    }

    /// What the row of a temperature accepts: `266 to 334 N`.
    fn accepted(sheet: &str, air: i64) -> (i64, i64) {
        let head = format!("{air} °C | ");
        let row = sheet.lines().find_map(|line| line.trim().strip_prefix(&head)).expect("a row");
        let (lower, upper) = row.trim_end_matches(" N").split_once(" to ").expect("two ends");
        (lower.parse().expect("a whole number"), upper.parse().expect("a whole number"))
    }

    /// The way that the program takes: `accepted`, `otherwise`, `undecided`.
    fn way(checked: &Checked, air: i64, pull: i64) -> String {
        let one = checked.procedures.first().expect("a procedure");
        let mut job = Job::new(&one.graph, &checked.world.units, "source");
        let typed = |reading: i64| Answer::Typed(vec![reading.to_string()]);
        job.answer(&typed(air), "now").expect("the air");
        match job.answer(&typed(pull), "now") {
            Ok(_) => job.record().entries.last().expect("an entry").way.clone(),
            Err(why) => {
                assert_eq!(why, Refused::Undecided);
                "undecided".to_owned()
            }
        }
    }

    /// How far beyond the printed limits a reading is still undecided: `by more than 12 N`.
    fn undecided_by(sheet: &str) -> i64 {
        let Some((_, rest)) = sheet.split_once("Outside the limits in the table by more than ")
        else {
            return 0;
        };
        rest.split_once(" N").and_then(|(by, _)| by.parse().ok()).expect("so many newtons")
    }

    #[test]
    fn rows_of_limits_lie_on_the_digits_and_sort_as_the_program_does() {
        for how in ["", " guarded", " guarded, undecided counts as outside"] {
            let checked = checked(&source(how));
            assert!(!checked.has_errors(), "{:?}", checked.reports);
            let sheet = sheet_of(&checked);
            let further = undecided_by(&sheet);
            for air in 10..=20 {
                let (lower, upper) = accepted(&sheet, air);
                assert!(lower % 2 == 0 && upper % 2 == 0, "{how}: {air} °C: {lower} to {upper} N");
                for pull in (200..=400).step_by(2) {
                    let wanted = if (lower..=upper).contains(&pull) {
                        "accepted"
                    } else if (lower - further..=upper + further).contains(&pull) {
                        "undecided"
                    } else {
                        "otherwise"
                    };
                    assert_eq!(
                        way(&checked, air, pull),
                        wanted,
                        "{how}: {air} °C, {pull} N\n{sheet}"
                    );
                }
            }
        }
    }

    #[test]
    fn beside_a_table_that_is_drawn_in_the_line_and_its_outcome_point_to_the_table() {
        let said = |how: &str| sheet_of(&checked(&source(how)));
        let plain = said("");
        assert!(
            plain.contains("N   pull at (air)") && plain.contains("Outside pull at (air):"),
            "{plain}"
        );
        let guarded = said(" guarded");
        assert!(guarded.contains("N   see the table"), "{guarded}");
        assert!(undecided_by(&guarded) > 0, "{guarded}");
        let at_once = said(" guarded, undecided counts as outside");
        assert!(at_once.contains("N   see the table"), "{at_once}");
        assert!(at_once.contains("Outside the limits in the table:"), "{at_once}");
    }

    /// The guard band of a limit is that of what is measured at it (ISO 14253-1, from memory): the table moves by 3.3 N
    /// for the degree that the probe may be wrong, the fixed end does not. With the 2 N of the puller that is 5.3 N, in whole steps
    /// 6 N, and 2 N.
    #[test]
    fn a_fixed_end_is_moved_by_the_error_of_the_reading_alone() {
        let checked = checked(&accepting("N", "pull-at(air) .. 400 N guarded"));
        assert!(!checked.has_errors(), "{:?}", checked.reports);
        let sheet = sheet_of(&checked);
        assert_eq!(accepted(&sheet, 10), (306, 398), "{sheet}");
        let further = "by more than 12 N (lower end), 4 N (upper end)";
        assert!(sheet.contains(further), "{sheet}");
        for (pull, wanted) in [
            (292, "otherwise"),
            (294, "undecided"),
            (304, "undecided"),
            (306, "accepted"),
            (398, "accepted"),
            (400, "undecided"),
            (402, "undecided"),
            (404, "otherwise"),
        ] {
            assert_eq!(way(&checked, 10, pull), wanted, "{pull} N\n{sheet}");
        }
    }

    /// A limit with one end has nothing to be moved in at the other.
    #[test]
    fn of_a_limit_with_one_end_that_end_alone_moves() {
        let at_most = sheet_of(&checked(&accepting("N", "at most 400 N guarded")));
        assert!(
            at_most.contains("at most 398 N") && at_most.contains("-> Over 402 N"),
            "{at_most}"
        );
        let both = sheet_of(&checked(&accepting("N", "300 .. 400 N guarded")));
        assert!(both.contains("302 to 398 N"), "{both}");
    }
}
