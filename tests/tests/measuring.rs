//! Metrology against tests/reference: verdicts near a limit, capability ratios, how often a limit is misjudged.

#[cfg(test)]
mod measuring {
    #![expect(clippy::float_arithmetic, reason = "reports are held against printed figures")]

    use locknut_graph::{
        Capability, Doubt, InstrumentError, Judgement, Metrology, Steps, Way, judge, steps,
    };
    use locknut_job::{Answer, Job, Refused};
    use locknut_library::{check_in_memory, compose};
    use locknut_proof::readings::risk::{Ends, Process, Shape, normal, risk};
    use locknut_quantity::{Bound, Exact, Range, parse_exact};
    use serde::Deserialize;
    use serde::de::DeserializeOwned;
    use std::collections::BTreeSet;

    const CAPABILITY: &str = include_str!("../reference/capability.yaml");
    const MISJUDGED: &str = include_str!("../reference/misjudged.yaml");
    const PUBLISHED: &str = include_str!("../reference/misjudged_published.yaml");

    #[test]
    fn a_guarded_limit_says_what_the_zones_of_the_standard_say() {
        let table: Capabilities = read(CAPABILITY);
        assert_eq!(table.verdicts.len(), 21);
        for row in &table.verdicts {
            let limit = Range::closed(number(&row.limit.0), number(&row.limit.1));
            let doubt = match (&row.uncertainty, &row.error) {
                (Some(uncertainty), None) => Doubt::with_uncertainty(number(uncertainty)),
                (None, Some(error)) => Doubt::within(number(error)),
                _ => panic!("{}: one of both", row.id),
            };
            let guard = doubt.guard(&limit).expect("no share of the reading");
            let reading = [number(&row.reading)];
            assert_eq!(word(judge(&limit, Some(&guard), &reading)), row.says, "{}", row.id);
            if let Some(simple) = &row.simple {
                assert_eq!(word(judge(&limit, None, &reading)), simple, "{}", row.id);
            }
        }
    }

    /// Where the error grows with the reading: against all true values that a reading may have.
    #[test]
    fn a_guard_keeps_every_true_value_that_a_reading_may_have() {
        let error = InstrumentError {
            fixed: number("1"),
            of_reading: number("0.04"),
            of_full_scale: number("0"),
            of_step: number("0.5"),
            zero: number("-3"),
            full_scale: number("100"),
            written: String::new(),
        };
        let doubt = Doubt::of(&error);
        let mut seen = BTreeSet::new();
        for (lower, upper) in [("-24", "24"), ("20", "26"), ("-26", "-20"), ("-9", "2")] {
            let limit = Range::closed(number(lower), number(upper));
            let guard = doubt.guard(&limit).expect("a small share");
            for tenth in -600..600 {
                let reading = Exact::new(tenth.into(), 10.into());
                let size = &reading + number("3");
                let size = if size < number("0") { -size } else { size };
                let away = number("1.5") + number("0.04") * size;
                let (least, most) = (&reading - &away, &reading + &away);
                let wanted = if least >= number(lower) && most <= number(upper) {
                    "accept"
                } else if most < number(lower) || least > number(upper) {
                    "reject"
                } else {
                    "undecided"
                };
                let found = word(judge(&limit, Some(&guard), std::slice::from_ref(&reading)));
                assert_eq!(found, wanted, "{reading} in {lower} .. {upper}");
                seen.insert(found);
            }
        }
        assert_eq!(seen.len(), 3);
    }

    #[test]
    fn a_ratio_is_half_of_the_limits_to_the_greatest_error_and_no_other() {
        let table: Capabilities = read(CAPABILITY);
        assert_eq!(table.ratios.len(), 9);
        let Metrology { fair, good, .. } = Metrology::default();
        for row in &table.ratios {
            let ratio = held(&number(&row.half), &number(&row.error)).ratio().expect("a ratio");
            let said = match &ratio {
                ratio if *ratio >= good => "meets 10:1",
                ratio if *ratio >= fair => "meets 4:1",
                _ => "below 4:1",
            };
            assert_eq!(said, row.says, "{}", row.id);
            near(float(&ratio), row.ratio, 0.000_01, &row.id);
            assert!((float(&ratio) - row.uncertainty_ratio).abs() > 0.05, "{}", row.id);
        }
    }

    #[test]
    fn a_display_has_steps_enough_from_a_tenth_down() {
        let table: Capabilities = read(CAPABILITY);
        assert_eq!(table.resolutions.len(), 6);
        for row in &table.resolutions {
            let (step, width) = (number(&row.step), number(&row.width));
            let said = match steps(&step, &width) {
                Steps::Fine => "within 1/10",
                Steps::Fair => "within 1/5",
                Steps::Coarse => "too coarse",
            };
            assert_eq!(said, row.says, "{}", row.id);
            near(float(&(step / width)), row.share, 0.000_000_5, &row.id);
        }
    }

    #[test]
    fn a_true_value_is_inside_as_often_as_published() {
        let table: Capabilities = read(CAPABILITY);
        assert_eq!(table.probabilities.len(), 11);
        for row in &table.probabilities {
            let below = |end: f64| normal((end - row.reading) / row.uncertainty);
            let inside = row.limit.1.map_or(1.0, below) - row.limit.0.map_or(0.0, below);
            near(inside, row.inside, 1e-9, &row.id);
        }
    }

    #[test]
    fn errors_are_spread_as_the_tables_of_the_normal_distribution_say() {
        let table: Capabilities = read(CAPABILITY);
        assert_eq!((table.quantiles.len(), table.coverages.len()), (8, 6));
        for row in &table.quantiles {
            near(normal(row.z), row.below, 1e-7, &row.id);
        }
        for row in &table.coverages {
            near(2.0 * normal(row.k) - 1.0, row.within, 1e-8, &row.id);
        }
    }

    #[test]
    fn a_guard_band_is_as_wide_as_published() {
        let table: Capabilities = read(CAPABILITY);
        assert_eq!(table.guards.len(), 3);
        for row in &table.guards {
            let end = |end: &Option<String>| {
                end.as_ref().map(|end| Bound { value: number(end), closed: true })
            };
            let limit = Range { lower: end(&row.limit.0), upper: end(&row.limit.1) };
            let guard = Doubt::with_uncertainty(number("1")).guard(&limit).expect("no share");
            let bands: Vec<_> = guard.lower.iter().chain(&guard.upper).collect();
            assert_eq!(bands.len(), row.limit.0.iter().chain(&row.limit.1).count(), "{}", row.id);
            for band in bands {
                near(float(&band.inward), row.times, 1e-6, &row.id);
                if let Some(of_expanded) = row.of_expanded {
                    near(float(&band.inward) / 2.0, of_expanded, 1e-6, &row.id);
                }
            }
        }
    }

    #[test]
    fn a_limit_is_misjudged_as_often_as_two_other_programs_say() {
        let table: Rows<Misjudged> = read(MISJUDGED);
        assert_eq!(table.rows.len(), 42);
        for row in &table.rows {
            let shape = match row.shape.as_str() {
                "normal" => Shape::Normal(row.error),
                "rectangular" => Shape::Rectangular(row.error),
                other => panic!("{other}"),
            };
            let process = Process { mean: row.mean, deviation: row.deviation };
            let found = risk(process, shape, row.limit, row.accepted);
            near(found.good, row.good, 1e-9, &row.id);
            near(found.accepted, row.passing, 1e-9, &row.id);
            near(found.bad_accepted, row.bad_accepted, 1e-9, &row.id);
            near(found.good_not_accepted, row.good_refused, 1e-9, &row.id);
        }
    }

    #[test]
    fn a_limit_is_misjudged_as_often_as_is_printed() {
        let table: Rows<Printed> = read(PUBLISHED);
        assert_eq!(table.rows.len(), 28);
        for row in &table.rows {
            let process = Process { mean: row.mean, deviation: row.deviation };
            let found = risk(process, Shape::Normal(row.error), row.limit, row.accepted);
            let share = match row.what.as_str() {
                "bad-accepted" => found.bad_accepted,
                "bad-of-accepted" => found.bad_accepted / found.accepted,
                "good-refused" => found.good_not_accepted,
                "good" => found.good,
                other => panic!("{other}"),
            };
            let share = if row.percent { share * 100.0 } else { share };
            near(share, row.published, row.within, &format!("{} of {}", row.id, row.source));
        }
    }

    #[test]
    fn a_guard_as_wide_as_a_rectangular_error_lets_nothing_bad_pass() {
        let process = Process { mean: 0.0, deviation: 0.5 };
        let found = risk(
            process,
            Shape::Rectangular(0.25),
            (Some(-1.0), Some(1.0)),
            (Some(-0.75), Some(0.75)),
        );
        assert!(found.bad_accepted.abs() < 1e-15, "{found:?}");
    }

    /// One guarded limit through the house: verdicts and record of a job, sheet, document.
    #[test]
    fn a_guarded_limit_is_kept_by_the_job_the_sheet_and_the_document() {
        let library = r#"
            instrument gauge { measures length 0 .. 150 mm, resolution 0.01 mm, error 0.03 mm }
            model hub { title "Hub" }
            procedure check-hub on hub {
              title "Check the hub"
              step "Measure." {
                measure bore using gauge, expect 20 .. 30 mm, usually 24.9 .. 25.1 mm {
                  accept 24.80 .. 25.20 mm guarded
                  otherwise stop "Lay it aside."
                }
                measure rim at left, right using gauge, expect 20 .. 30 mm
                check lean = max(rim) - min(rim) {
                  accept at most 0.60 mm guarded
                  otherwise stop "Lay it aside."
                }
              }
            }"#;
        let files = [("hub.lkn".to_owned(), library.to_owned())];
        let checked = check_in_memory(&files.into());
        let message = locknut_tests::run::message_of(&checked.reports, &checked.sources);
        assert!(checked.reports.is_empty(), "{message}");
        let compiled = checked.procedure("check-hub").expect("it compiles");
        let answers =
            |texts: &[&str]| Answer::Typed(texts.iter().map(|text| (*text).to_owned()).collect());
        let mut job = Job::new(&compiled.graph, &checked.world.units, "source");
        // 25.17 mm may be 25.20 mm at most; 25.18 mm may be more; 25.23 mm may be 25.20 mm, 25.24 mm not.
        for undecided in ["25.18", "24.82", "25.23", "24.77"] {
            let told = job.answer(&answers(&[undecided]), "now");
            assert!(matches!(told, Err(Refused::Undecided)), "{undecided}: {told:?}");
        }
        let told = job.clone().answer(&answers(&["25.24"]), "now").expect("a verdict");
        assert_eq!(told.way, Way::Otherwise);
        assert_eq!(job.answer(&answers(&["25.17"]), "now").expect("a verdict").way, Way::Accepted);
        let ways: Vec<&str> = job.record().entries.iter().map(|entry| entry.way.as_str()).collect();
        assert_eq!(ways, ["undecided", "undecided", "undecided", "undecided", "accepted"]);
        assert_eq!(job.record().broken(), None);
        // A spread is wrong by twice the error; what cannot be read again is not undecided.
        for (right, way) in [("25.54", Way::Accepted), ("25.55", Way::Otherwise)] {
            let mut job = job.clone();
            job.answer(&answers(&["25.00", right]), "now").expect("two readings");
            assert_eq!(job.answer(&Answer::Done, "now").expect("a verdict").way, way, "{right}");
        }

        let sheet = locknut_sheet::text(&compose(&checked, compiled, "en", None).sheet);
        let sheet = sheet.replace('\u{a0}', " ");
        for said in
            ["24.83 to 25.17", "Under 24.77", "over 25.23", "24.80 to 25.20", "at most 0.54"]
        {
            assert!(sheet.contains(said), "{said}: {sheet}");
        }
        let document =
            locknut_data::graph_json(&compiled.graph, &compiled.facts, &checked.world.units)
                .expect("JSON");
        let document: serde_json::Value = serde_json::from_str(&document).expect("JSON");
        let schema = serde_json::from_str(locknut_data::SCHEMA).expect("the schema is JSON");
        let validator = jsonschema::validator_for(&schema).expect("the schema is a schema");
        let errors: Vec<String> =
            validator.iter_errors(&document).map(|error| error.to_string()).collect();
        assert!(errors.is_empty(), "{errors:?}");
        assert!(
            document.to_string().contains("\"guard\":{\"lower\":{\"inward\":\"3/100000\""),
            "{document}"
        );
        let sum = compiled.facts.sums.first().expect("a sum");
        let told: Vec<&str> = sum.judged.iter().map(|judged| judged.text.as_str()).collect();
        assert!(told.iter().any(|text| text.contains("6.6:1")), "{told:?}");
        let worked: Vec<&str> = sum.worked.iter().map(|line| line.what.as_str()).collect();
        assert!(worked.iter().any(|what| what.contains("of bad values and pass")), "{worked:?}");
        assert!(told.iter().all(|text| !text.contains("misjudged")), "{told:?}");
    }

    /// One figure for whoever judges: what the sheet prints is what the compiler, the terminal and the page reckon with.
    #[test]
    fn a_guarded_limit_ends_at_the_figure_that_is_printed() {
        let library = "
            instrument gauge { measures length 0 .. 60 mm, resolution 0.1 mm, error 0.255 mm }
            model hub { title \"Hub\" }
            procedure check-hub on hub {
              title \"Check the hub\"
              measure bore at front, middle, rear using gauge, expect 0 .. 60 mm
              measure rim using gauge, expect 5 .. 50 mm
              measure lip using gauge, expect 0 .. 60 mm {
                accept rim + 1 mm .. rim + 4.5 mm guarded
                otherwise stop \"Lay it aside.\"
              }
              check value = mean(bore) {
                accept 4.50 .. 11.59 mm guarded
                otherwise stop \"Lay it aside.\"
              }
            }";
        let checked = check_in_memory(&[("hub.lkn".to_owned(), library.to_owned())].into());
        let message = locknut_tests::run::message_of(&checked.reports, &checked.sources);
        assert!(!checked.has_errors(), "{message}");
        let compiled = checked.procedure("check-hub").expect("it compiles");
        let millimetre = number("0.001");
        let limits: Vec<_> = compiled
            .graph
            .acts()
            .filter_map(|act| match act.kind.verdict() {
                Some(locknut_graph::Verdict::Accept { limit, .. }) => Some(limit),
                _ => None,
            })
            .collect();
        // 0.255 mm of each of the two readings: 0.51 mm, in steps of the gauge 0.6 mm.
        let band =
            |at: usize| limits[at].guard.as_ref().expect("a guard").upper.clone().expect("an end");
        assert_eq!(band(0).inward, number("0.6") * &millimetre);
        // A mean is told to a hundredth: 4.755 mm and 11.335 mm lie between two of them, and a mean may, too.
        let accepted = limits[1].accepted();
        let ends =
            [accepted.lower, accepted.upper].map(|end| end.expect("an end").value / &millimetre);
        assert_eq!(ends, [number("4.76"), number("11.33")]);
        let sheet = locknut_sheet::text(&compose(&checked, compiled, "en", None).sheet);
        let sheet = sheet.replace('\u{a0}', " ");
        assert!(sheet.contains("4.76 to 11.33"), "{sheet}");
        let answers =
            |texts: &[&str]| Answer::Typed(texts.iter().map(|text| (*text).to_owned()).collect());
        let mut job = Job::new(&compiled.graph, &checked.world.units, "source");
        // 11.3333 mm is not 11.33 mm or less, though 11.335 mm would do.
        for readings in [&["11.3", "11.3", "11.4"][..], &["8.0"], &["10.0"]] {
            job.answer(&answers(readings), "now").expect("a reading");
        }
        let told = job.answer(&Answer::Done, "now").expect("a verdict");
        assert_eq!(told.way, Way::Otherwise);
    }

    /// A mean and a sum have the shape of their instrument's error, if that is the same at each reading: the rows G39 and
    /// G10 of the table, one with all errors alike, one with a standard uncertainty. What is picked from several points has none that is known.
    #[test]
    fn a_mean_and_a_sum_are_misjudged_as_often_as_one_reading_with_all_of_their_error() {
        let told = |instrument: &str, value: &str, usually: &str, limit: &str| {
            let library = format!(
                "instrument gauge {{ measures length 0 .. 60 mm, resolution 0.01 mm, {instrument} }}
                 instrument other {{ measures length 0 .. 60 mm, resolution 0.01 mm, {instrument} }}
                 model hub {{ title \"Hub\" }}
                 procedure check-hub on hub {{
                   title \"Check the hub\"
                   measure bore at front, middle, rear using gauge, expect 0 .. 60 mm
                   measure rim using gauge, expect 0 .. 60 mm
                   measure lip using gauge, expect 0 .. 60 mm
                   measure far using other, expect 0 .. 60 mm
                   check value = {value}, usually {usually} {{
                     accept {limit}
                     otherwise stop \"Lay it aside.\"
                   }}
                 }}"
            );
            let checked = check_in_memory(&[("hub.lkn".to_owned(), library)].into());
            let message = locknut_tests::run::message_of(&checked.reports, &checked.sources);
            assert!(!checked.has_errors(), "{message}");
            let sums = &checked.procedure("check-hub").expect("it compiles").facts.sums;
            let sum = sums.iter().find(|sum| sum.what.starts_with("value")).expect("a sum");
            let worked =
                sum.worked.iter().map(|line| format!("{}: {}", line.what, line.figure.said()));
            let judged = sum.judged.iter().map(|judged| judged.text.clone());
            worked.chain(judged).collect::<Vec<String>>().join("; ")
        };
        let has = |text: &str, which: &str, much: &str| {
            text.split("; ").any(|line| line.contains(which) && line.ends_with(much))
        };
        let (alike, normal) = ("error 0.88 mm", "error 0.25 mm, standard uncertainty 0.125 mm");
        let (half, half_normal) =
            ("error 0.44 mm", "error 0.125 mm, standard uncertainty 0.0625 mm");
        for (instrument, value) in [
            (alike, "mean(bore)"),
            (alike, "max(bore)"),
            (half, "rim + lip"),
            (half, "-mean(bore) - rim + 44 mm"),
        ] {
            let text = told(instrument, value, "20.2 .. 23.8 mm", "20 .. 24 mm");
            assert!(
                has(&text, "are of bad values", ": 0.86 %") && has(&text, "are of good", ": 3.5 %"),
                "{value}: {text}"
            );
            assert!(text.contains("alike, and the same at each reading"), "{value}: {text}");
        }
        for (instrument, value) in [(normal, "mean(bore)"), (half_normal, "rim + lip")] {
            let text = told(instrument, value, "21 .. 23 mm", "21 .. 23 mm");
            assert!(
                has(&text, "are of bad values", ": 0.80 %") && has(&text, "are of good", ": 1.5 %"),
                "{value}: {text}"
            );
            assert!(text.contains("normal, and the same at each reading"), "{value}: {text}");
        }
        for value in
            ["max(bore) - min(bore) + 20 mm", "max(bore) - far + 20 mm", "abs(rim - lip) + 20 mm"]
        {
            let text = told(half, value, "20.2 .. 23.8 mm", "20 .. 24 mm");
            assert!(text.contains("no known shape"), "{value}: {text}");
        }
    }

    /// A guarded limit takes for granted what its guard comes of: a greatest error, or normal errors.
    #[test]
    fn a_guard_tells_which_errors_it_takes_for_granted() {
        let told = |instrument: &str, judged: &str| {
            let library = format!(
                "instrument gauge {{ measures length 0 .. 150 mm, resolution 0.01 mm, {instrument} }}
                 model hub {{ title \"Hub\" }}
                 procedure check-hub on hub {{
                   title \"Check the hub\"
                   measure bore using gauge, expect 20 .. 30 mm {{ {judged} }}
                 }}"
            );
            let checked =
                locknut_library::check_in_memory(&[("hub.lkn".to_owned(), library)].into());
            let message = locknut_tests::run::message_of(&checked.reports, &checked.sources);
            let compiled = checked.procedure("check-hub").unwrap_or_else(|| panic!("{message}"));
            let assumed = locknut_proof::assumptions(&compiled.graph);
            let assumed: Vec<String> = assumed.into_iter().map(|one| one.what).collect();
            let given = compiled.facts.sums.iter().flat_map(|sum| &sum.given);
            let given: Vec<String> =
                given.map(|one| format!("{} = {}", one.symbol, one.figure.said())).collect();
            (assumed.join("\n"), given.join("\n"))
        };
        let accept = "accept at most 25.00 mm guarded\n otherwise stop \"Lay it aside.\"";
        let arms = "at most 25.00 mm guarded -> go on\n over 25.00 mm -> stop \"Lay it aside.\"";
        for judged in [accept, arms] {
            let (assumed, given) = told("error 0.10 mm, standard uncertainty 0.02 mm", judged);
            assert!(
                assumed.contains("spread normally, with the standard uncertainty"),
                "{assumed}"
            );
            assert!(assumed.contains("(0.02 mm)"), "{assumed}");
            assert!(!assumed.contains("is further from the true value"), "{assumed}");
            assert!(given.contains("u = 0.0200 mm"), "{given}");
            let (assumed, given) = told("error 0.10 mm", judged);
            assert!(assumed.contains("is further from the true value"), "{assumed}");
            assert!(!assumed.contains("normally") && !given.contains("u ="), "{assumed}\n{given}");
        }
    }

    fn held(half: &Exact, error: &Exact) -> Capability {
        let range = Range::closed(-half.clone(), half.clone());
        Capability {
            accepted: Some(range.clone()),
            limit: range,
            error: Some(error.clone()),
            doubt: None,
            usually: None,
            single: true,
            causes: None,
            written: String::new(),
        }
    }

    fn word(judgement: Judgement) -> &'static str {
        match judgement {
            Judgement::Accepted => "accept",
            Judgement::Refused => "reject",
            Judgement::Undecided => "undecided",
        }
    }

    fn near(found: f64, wanted: f64, within: f64, what: &str) {
        assert!((found - wanted).abs() <= within, "{what}: {found}, and {wanted} is published");
    }

    fn float(value: &Exact) -> f64 {
        let text = locknut_quantity::to_decimal(value, 9);
        text.parse().expect("digits")
    }

    fn number(text: &str) -> Exact {
        parse_exact(text).expect("a number")
    }

    fn read<T: DeserializeOwned>(text: &str) -> T {
        serde_yaml::from_str(text).expect("a table")
    }

    #[derive(Deserialize)]
    struct Capabilities {
        verdicts: Vec<VerdictRow>,
        ratios: Vec<RatioRow>,
        resolutions: Vec<ResolutionRow>,
        probabilities: Vec<ProbabilityRow>,
        quantiles: Vec<QuantileRow>,
        coverages: Vec<CoverageRow>,
        guards: Vec<GuardRow>,
    }

    #[derive(Deserialize)]
    struct QuantileRow {
        id: String,
        z: f64,
        below: f64,
    }

    #[derive(Deserialize)]
    struct CoverageRow {
        id: String,
        k: f64,
        within: f64,
    }

    #[derive(Deserialize)]
    struct GuardRow {
        id: String,
        limit: (Option<String>, Option<String>),
        times: f64,
        of_expanded: Option<f64>,
    }

    #[derive(Deserialize)]
    struct VerdictRow {
        id: String,
        reading: String,
        uncertainty: Option<String>,
        error: Option<String>,
        limit: (String, String),
        says: String,
        simple: Option<String>,
    }

    #[derive(Deserialize)]
    struct RatioRow {
        id: String,
        half: String,
        error: String,
        ratio: f64,
        says: String,
        uncertainty_ratio: f64,
    }

    #[derive(Deserialize)]
    struct ResolutionRow {
        id: String,
        step: String,
        width: String,
        share: f64,
        says: String,
    }

    #[derive(Deserialize)]
    struct ProbabilityRow {
        id: String,
        limit: Ends,
        reading: f64,
        uncertainty: f64,
        inside: f64,
    }

    #[derive(Deserialize)]
    struct Rows<T> {
        rows: Vec<T>,
    }

    #[derive(Deserialize)]
    struct Misjudged {
        id: String,
        limit: Ends,
        mean: f64,
        deviation: f64,
        shape: String,
        error: f64,
        accepted: Ends,
        good: f64,
        passing: f64,
        bad_accepted: f64,
        good_refused: f64,
    }

    #[derive(Deserialize)]
    struct Printed {
        id: String,
        source: String,
        limit: Ends,
        mean: f64,
        deviation: f64,
        error: f64,
        accepted: Ends,
        what: String,
        published: f64,
        within: f64,
        percent: bool,
    }
}
