//! Tables through the house: verdicts of a job against a reckoning in whole numbers, what the sheet prints, what the
//! proof assumes.

#[cfg(test)]
mod tables {
    use locknut_graph::{StepGraph, TableEnd, Way};
    use locknut_job::{Answer, Job};
    use locknut_library::{Checked, check_in_memory, compose};
    use locknut_quantity::{Exact, System, Units, parse_exact};
    use serde::Deserialize;
    use std::collections::{BTreeMap, BTreeSet};

    const RESISTANCE: &str = include_str!("../reference/resistance.yaml");

    const ROWS: [(i64, i64); 4] = [(-10, 240), (5, 180), (20, 120), (30, 80)];

    fn source(between: &str, how: &str) -> String {
        let rows: Vec<String> =
            ROWS.iter().map(|(key, value)| format!("  {key} °C -> {value} ± 20 N\n")).collect();
        format!(
            "table tension-at : temperature -> force {{
{}  {between}
  per \"Card 2\"
}}
instrument thermometer {{ measures temperature -20 .. 50 °C, resolution 1 °C, error 1 °C }}
instrument scale-of-springs {{ measures force 0 .. 500 N, resolution 1 N, error 2 N }}
model line {{ title \"Line\" }}
procedure pull-it on line {{
  title \"Pull it\"
  step \"Read, and pull.\" {{
    measure air using thermometer, expect -10 .. 30 °C
    measure pull using scale-of-springs, expect 0 .. 400 N {{
      accept tension-at(air){how}
      otherwise refer to \"the warden\"
    }}
  }}
}}
",
            rows.concat()
        )
    }

    fn checked(source: &str) -> Checked {
        let checked = check_in_memory(&BTreeMap::from([("one.lkn".to_owned(), source.to_owned())]));
        assert!(!checked.has_errors(), "{:?}", checked.reports);
        checked
    }

    /// In proportion in whole parts of a row's width, else by whole rows: no fraction is used here.
    fn expected(between: &str, air: i64, pull: i64) -> bool {
        let above = ROWS.iter().position(|(key, _)| *key >= air).expect("inside the keys").max(1);
        let ((low, from), (high, to)) = (ROWS[above - 1], ROWS[above]);
        let (width, middle) = if between == "take next lower" {
            (1, if air == high { to } else { from })
        } else {
            (high - low, from * (high - air) + to * (air - low))
        };
        (middle - 20 * width..=middle + 20 * width).contains(&(pull * width))
    }

    fn way(graph: &StepGraph, units: &Units, air: i64, pull: i64) -> Way {
        let mut job = Job::new(graph, units, "");
        let mut told = None;
        for typed in [air, pull] {
            let answer = Answer::Typed(vec![typed.to_string()]);
            told = job.answer(&answer, "2026-01-01T00:00:00Z").ok();
        }
        told.expect("both are taken").way
    }

    #[test]
    fn a_job_judges_as_the_table_says() {
        for between in ["between in proportion", "take next lower"] {
            let checked = checked(&source(between, ""));
            let one = checked.procedures.first().expect("compiled");
            let mut seen = BTreeSet::new();
            for air in -10..=30 {
                for pull in (55..265).step_by(3).chain([100, 140, 160, 200, 220, 260]) {
                    let wanted = expected(between, air, pull);
                    let found = way(&one.graph, &checked.world.units, air, pull);
                    let wanted = if wanted { Way::Accepted } else { Way::Otherwise };
                    assert_eq!(found, wanted, "{between}: {air} °C, {pull} N");
                    seen.insert(format!("{found:?}"));
                }
            }
            assert_eq!(seen.len(), 2);
        }
    }

    #[test]
    fn the_sheet_prints_what_is_accepted_drawn_inward() {
        let say = |source: &str, system| {
            let checked = checked(source);
            let one = checked.procedures.first().expect("compiled");
            let sheet = compose(&checked, one, "en", Some(system)).sheet;
            locknut_sheet::text(&sheet).replace('\u{a0}', " ")
        };
        let holds = |sheet: &str, rows: &[&str]| {
            for row in rows {
                assert!(sheet.contains(row), "{row} in\n{sheet}");
            }
        };
        // At 21 °C the middle is 116 N, at -9 °C 236 N, at 6 °C 176 N.
        let proportion = say(&source("between in proportion", ""), System::Si);
        holds(&proportion, &["−9 °C | 216 to 256 N", "6 °C | 156 to 196 N", "21 °C | 96 to 136 N"]);
        // A thermometer that shows whole °F would meet no row: both are read as written.
        holds(
            &say(&source("between in proportion", ""), System::Us),
            &["Read this in °C", "−9 °C | 216 to 256 N"],
        );
        // Drawn in by the error of the scale, 2 N, and by 1 °C on the steepest piece, 4 N a degree.
        holds(
            &say(&source("between in proportion", " guarded"), System::Si),
            &["6 °C | 162 to 190 N", "drawn in"],
        );
        holds(
            &say(&source("take next lower", ""), System::Si),
            &["−10 to 4 °C | 220 to 260 N", "20 to 29 °C | 100 to 140 N", "30 °C | 60 to 100 N"],
        );
    }

    /// Between two rows of a platinum sensor a straight line lies below the curve, by what its bend comes to over 20 °C:
    /// h²/8 |R″|, 0.0058 Ω above 0 °C and 0.0095 Ω at −100 °C.
    #[test]
    fn published_rows_lie_between_published_rows() {
        let table: Resistances = serde_yaml::from_str(RESISTANCE).expect("a table");
        assert_eq!(table.rows.len(), 41);
        let rows = table.rows.iter().step_by(2);
        let rows = rows.map(|row| format!("  {} °C -> {} Ω\n", row.degrees, row.ohms));
        let rows: String = rows.collect();
        let source = format!(
            "table sensor : temperature -> resistance {{\n{rows}  between in proportion\n}}\n"
        );
        let checked = check_in_memory(&BTreeMap::from([("one.lkn".to_owned(), source)]));
        assert!(checked.reports.is_empty(), "{:?}", checked.reports);
        let sensor = checked.world.tables.get("sensor").expect("a table");
        let zero = number("273.15");
        for (place, row) in table.rows.iter().enumerate() {
            let key = number(&row.degrees) + &zero;
            let found = sensor.at(TableEnd::Upper, &key).expect("between its rows");
            let below = number(&row.ohms) - found;
            let expected = if place % 2 == 0 { ("0", "0") } else { ("0.0056", "0.0096") };
            let (least, most) = (number(expected.0), number(expected.1));
            assert!(least <= below && below <= most, "{} °C: {below}", row.degrees);
            let printed = number(&row.ohms) - number(&row.printed);
            assert!(printed <= number("0.005") && printed >= number("-0.005"), "{}", row.degrees);
        }
    }

    fn number(text: &str) -> Exact {
        parse_exact(text).expect("a number")
    }

    #[derive(Deserialize)]
    struct Resistances {
        rows: Vec<Resistance>,
    }

    #[derive(Deserialize)]
    struct Resistance {
        degrees: String,
        ohms: String,
        printed: String,
    }

    #[test]
    fn the_document_keeps_its_schema() {
        let checked = checked(&source("between in proportion", " guarded"));
        let one = checked.procedures.first().expect("compiled");
        let document = locknut_data::graph_json(&one.graph, &one.facts, &checked.world.units);
        let document: serde_json::Value =
            serde_json::from_str(&document.expect("a document")).expect("JSON");
        assert!(document.to_string().contains("\"is\":\"look-up\""), "{document}");
        let schema = serde_json::from_str(locknut_data::SCHEMA).expect("the schema is JSON");
        let validator = jsonschema::validator_for(&schema).expect("the schema is a schema");
        let errors: Vec<String> =
            validator.iter_errors(&document).map(|error| error.to_string()).collect();
        assert!(errors.is_empty(), "{errors:?}");
    }

    #[test]
    fn the_proof_says_what_it_takes_for_granted() {
        let checked = checked(&source("between in proportion", ""));
        let one = checked.procedures.first().expect("compiled");
        let assumed = locknut_proof::assumptions(&one.graph);
        let table = "tension at is as its table says; between two rows it goes in proportion";
        assert!(assumed.iter().any(|one| one.what == table), "{assumed:?}");
        let sum = one.facts.sums.iter().find(|sum| sum.what == "look-up in tension at");
        let worked = &sum.expect("a sum").worked;
        let ends: Vec<String> = worked.iter().map(|line| line.figure.said()).collect();
        assert_eq!(ends, ["190.00 N", "230.00 N"], "half way between 240 ± 20 and 180 ± 20");
    }
}
