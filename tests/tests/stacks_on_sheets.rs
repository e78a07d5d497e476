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
        let said = of("mean(gap)", "fewest");
        assert!(said.contains("Of equally many take those with the smaller sum"), "{said}");
        // Of 3.0 mm at most: three of 0.5 mm, one of 2.0 mm, none of 6.0 mm.
        assert!(said.contains("3 × 0.5 mm (S-05)"), "{said}");
        assert!(!said.contains("× 2.0 mm (S-20)") && said.contains("2.0 mm (S-20)"), "{said}");
        let listed = said.split("Consumables").nth(1).unwrap_or_default();
        let listed = listed.split("\n\n").next().unwrap_or_default();
        assert!(!listed.contains("S-60"), "{listed}");
        let said = of("max(gap)", "nearest 0.5 mm");
        assert!(said.contains("Of two sums equally near take the smaller"), "{said}");
        let said = of("mean(gap)", "largest");
        assert!(said.contains("Of one sum take the fewest pieces"), "{said}");
    }
}
