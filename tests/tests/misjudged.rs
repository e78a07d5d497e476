//! How often a limit on a weighted sum is misjudged, against tests/reference: several instruments, and weights of unlike sign.

#[cfg(test)]
mod misjudged {
    use locknut_library::check_in_memory;
    use locknut_proof::sums::Worked;
    use serde::Deserialize;

    const COMBINED: &str = include_str!("../reference/misjudged_combined.yaml");

    #[derive(Deserialize)]
    struct Table {
        rows: Vec<Row>,
    }

    #[derive(Deserialize)]
    struct Row {
        id: String,
        value: String,
        first: String,
        second: String,
        third: String,
        usually: String,
        limit: String,
        bad: f64,
        good: f64,
        bad_convolved: f64,
        good_convolved: f64,
        u: Option<f64>,
    }

    fn worked(row: &Row) -> Vec<Worked> {
        let gauge = |name: &str, error: &str| {
            format!(
                "instrument {name} {{ measures length 0 .. 60 mm, resolution 0.01 mm, {error} }}\n"
            )
        };
        let library = [
            gauge("first", &row.first),
            gauge("second", &row.second),
            gauge("third", &row.third),
            format!(
                "model hub {{ title \"Hub\" }}
                 procedure check-hub on hub {{
                   title \"Check the hub\"
                   measure a using first, expect 0 .. 60 mm
                   measure again using first, expect 0 .. 60 mm
                   measure b using second, expect 0 .. 60 mm
                   measure c using third, expect 0 .. 60 mm
                   check value = {}, usually {} {{
                     accept {}
                     otherwise stop \"Lay it aside.\"
                   }}
                 }}",
                row.value, row.usually, row.limit
            ),
        ];
        let checked = check_in_memory(&[("hub.lkn".to_owned(), library.concat())].into());
        let message = locknut_tests::run::message_of(&checked.reports, &checked.sources);
        assert!(!checked.has_errors(), "{}: {message}", row.id);
        let sums = &checked.procedure("check-hub").expect("it compiles").facts.sums;
        sums.iter().find(|sum| sum.what.starts_with("value")).expect("a sum").worked.clone()
    }

    #[test]
    fn a_sum_of_several_instruments_is_misjudged_as_often_as_another_program_says() {
        let table: Table = serde_yaml::from_str(COMBINED).expect("a table");
        assert_eq!(table.rows.len(), 7);
        for row in &table.rows {
            let worked = worked(row);
            let told = |symbol: &str| worked.iter().find(|line| line.symbol == symbol);
            for (symbol, wanted, convolved) in
                [("Rc", row.bad, row.bad_convolved), ("Rp", row.good, row.good_convolved)]
            {
                let line = told(symbol).unwrap_or_else(|| panic!("{}: no {symbol}", row.id));
                let said = line.figure.said();
                let is: f64 = said.trim_end_matches(" %").parse().expect("a percentage");
                // Two digits are told.
                let digit = if is < 1.0 { 0.01 } else { 0.1 };
                assert!((is - wanted * 100.0).abs() <= digit / 2.0 + 1e-9, "{}: {said}", row.id);
                assert!((is / 100.0 - convolved).abs() <= convolved * 0.05, "{}: {said}", row.id);
                let (both, many) = (row.value.contains("again"), row.u.is_some());
                assert_eq!(line.what.contains("also in a difference"), both, "{}", line.what);
                assert_eq!(line.what.contains("independent of the others"), many, "{}", line.what);
            }
            let u = told("u").map(|line| line.figure.said());
            assert_eq!(u.is_some(), row.u.is_some(), "{}", row.id);
            if let (Some(said), Some(wanted)) = (u, row.u) {
                let is: f64 = said.trim_end_matches(" mm").parse().expect("a length");
                // Four digits are told.
                assert!((is - wanted).abs() <= 0.5e-4, "{}: {said}", row.id);
            }
        }
    }
}
