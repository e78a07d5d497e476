//! What a sheet says of pieces: a table for each point, else a worked line with its rule for ties, and no more of a size than can be needed.

#[cfg(test)]
mod stacks_on_sheets {
    use locknut_library::{check_in_memory, compose};
    use locknut_tests::run::message_of;
    use std::collections::BTreeMap;

    fn sheet(lines: &str) -> String {
        let source = format!(
            "instrument feeler {{ measures length 0 .. 20 mm, resolution 0.1 mm, error 0.02 mm }}
consumable shims {{ sizes 0.5 mm \"S-05\", 2.0 mm \"S-20\", 6.0 mm \"S-60\" }}
model bench {{
  title \"Bench\"
  part foot
}}
procedure pack on bench {{
  title \"Pack\"
  step \"Measure.\" {{ measure gap at left, right using feeler, expect 0.5 .. 3.0 mm }}
  step \"Measure further.\" {{
    measure slot at a, b, c using feeler, expect 0.5 .. 3.0 mm
    measure depth using feeler, expect 0.5 .. 3.0 mm
  }}
  step \"Pack.\" {{
{lines}
  }}
}}"
        );
        let checked = check_in_memory(&BTreeMap::from([("pack.lkn".to_owned(), source)]));
        let message = message_of(&checked.reports, &checked.sources);
        let one = checked.procedure("pack").unwrap_or_else(|| panic!("{message}"));
        let said = locknut_sheet::text(&compose(&checked, one, "en", None).sheet);
        said.replace('\u{a0}', " ")
    }

    #[test]
    fn each_point_has_a_table_of_its_own() {
        let said = sheet(
            "    choose up to 3 of one from shims so that rest is 0 .. 1.4 mm, where rest = gap at left - one, prefer fewest
    choose up to 3 of other from shims so that play is 0 .. 1.4 mm, where play = gap at right - other, prefer fewest",
        );
        for row in ["Gap (left) | One", "Gap (right) | Other", "2.0 to 3.0 mm | 2.0 mm (S-20)"] {
            assert!(said.contains(row), "{row}: {said}");
        }
        assert_eq!(said.matches("0.5 to 1.9 mm | 0.5 mm (S-05)").count(), 2, "{said}");
        // 6 mm never fits, 2 mm once at each point, and 0.5 mm once at each.
        assert!(said.contains("2 × 0.5 mm (S-05)") && said.contains("2 × 2.0 mm (S-20)"), "{said}");
        assert!(!said.contains("S-60"), "{said}");
    }

    #[test]
    fn a_worked_line_says_how_ties_go_and_lists_no_more_than_can_be_needed() {
        let of = |value: &str, prefer: &str| {
            sheet(&format!(
                "    choose up to 3 of one from shims so that rest is 0 .. 1.4 mm, where rest = {value} - one, prefer {prefer}"
            ))
        };
        let said = of("mean(slot)", "fewest");
        assert!(said.contains("Of equally many take those with the smaller sum"), "{said}");
        // Of 3.0 mm at most: three of 0.5 mm, one of 2.0 mm, none of 6.0 mm.
        assert!(said.contains("3 × 0.5 mm (S-05)"), "{said}");
        assert!(!said.contains("× 2.0 mm (S-20)") && said.contains("2.0 mm (S-20)"), "{said}");
        let listed = said.split("Consumables").nth(1).unwrap_or_default();
        let listed = listed.split("\n\n").next().unwrap_or_default();
        assert!(!listed.contains("S-60"), "{listed}");
        let said = of("mean(slot)", "nearest 0.5 mm");
        assert!(said.contains("Of two sums equally near take the smaller"), "{said}");
        let said = of("mean(slot)", "largest");
        assert!(said.contains("Of one sum take the fewest pieces"), "{said}");
        // A third of a tenth of a millimetre has no last digit.
        assert!(said.contains("it does not go by one number of few digits"), "{said}");
    }

    /// By hand: two points in tenths have a mean in twentieths; 0.5 mm leaves 0 to 1.4 mm of 0.50 to 1.90 mm, two of them of
    /// 1.00 to 2.40 mm, 2.0 mm of 2.00 to 3.40 mm.
    #[test]
    fn several_points_or_readings_that_make_one_number_have_a_table_by_it() {
        let of = |value: &str, result: &str| {
            sheet(&format!(
                "    choose up to 3 of one from shims so that rest is {result}, where rest = {value}, prefer fewest otherwise stop \"Ask.\""
            ))
        };
        let rows = |said: &str, rows: &[&str]| {
            for row in rows {
                assert!(said.contains(row), "{row}: {said}");
            }
        };
        rows(
            &of("mean(gap) - one", "0 .. 1.4 mm"),
            &[
                "Mean of gap | One",
                "0.50 to 1.90 mm | 0.5 mm (S-05)",
                "1.95 mm | 2 × 0.5 mm (S-05)",
                "2.00 to 3.00 mm | 2.0 mm (S-20)",
            ],
        );
        // Half of a difference of up to 2.5 mm either way; 0.5 mm less that is no more than 1.4 mm from −0.9 mm up.
        rows(
            &of("one - (gap at left - gap at right) / 2", "-0.9 .. 1.4 mm"),
            &[
                "(gap (left) − gap (right)) ÷ 2 | One",
                "−1.25 to −0.95 mm | nothing fits",
                "−0.90 to 1.25 mm | 0.5 mm (S-05)",
            ],
        );
        rows(
            &of("gap at left + depth - one", "0 .. 1.4 mm"),
            &["Gap (left) + depth | One", "6.0 mm | 6.0 mm (S-60)"],
        );
        // The greatest is never less than the smallest.
        let said = of("max(gap) - min(gap) - one", "-0.5 .. 2.0 mm");
        rows(&said, &["Greatest gap − smallest gap | One", "0 to 2.5 mm | 0.5 mm (S-05)"]);
    }
}
