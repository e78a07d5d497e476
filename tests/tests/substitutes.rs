//! What stands in for an instrument: each way has its own verdict, and what it leaves open is told.

#[cfg(test)]
mod substitutes {
    use locknut_graph::Way;
    use locknut_job::{Answer, Job, Refused};
    use locknut_library::{Checked, Compiled, check_in_memory, compose};
    use locknut_proof::assumptions;
    use std::collections::BTreeMap;

    /// Common practice: 6 to 10 on the gauge's own scale, 7 among them; a belt that gives way by 6 mm at
    /// most under firm thumb pressure is not slack, and may be too tight.
    const BELT: &str = r#"
instrument belt-gauge { scale bt "belt gauge" 0 .. 15, resolution 0.5, error 0.2 }
instrument steel-rule { measures length 0 .. 300 mm, resolution 0.5 mm, error 0.3 mm }
model band-saw {
  title "Band saw"
  part  belt
}
procedure check-belt on band-saw {
  title "Check the belt"
  measure tension using belt-gauge, expect 0 .. 15 bt {
    accept 6 .. 10 bt
    or measure sag using steel-rule, expect 0 .. 30 mm {
      press belt with firm-thumb
      accept at most 6 mm
    }, answers low only noting "Look for a hot bearing."
    otherwise stop "Renew the belt."
  }
}
"#;

    const CHAIN: &str = r#"
limit usable-length = at most 259 mm
instrument chain-rule { measures length 0 .. 600 mm, resolution 0.5 mm, error 0.2 mm }
instrument wear-card  { measures length, answers only usable-length }
model bicycle {
  title "Bicycle"
}
procedure check-chain on bicycle {
  title "Check the chain"
  measure twenty-links using chain-rule, expect 250 .. 270 mm {
    accept usable-length
    or using wear-card accept usable-length, per "common practice"
    otherwise stop "Renew the chain."
  }
}
"#;

    fn checked(text: &str) -> Checked {
        let files = BTreeMap::from([("case.lkn".to_owned(), text.to_owned())]);
        let checked = check_in_memory(&files);
        assert!(checked.reports.is_empty(), "{:?}", checked.reports);
        checked
    }

    fn only(checked: &Checked) -> &Compiled {
        checked.procedures.first().expect("a procedure")
    }

    /// The ways that the answers take, and the remarks that the record keeps of them.
    fn job(checked: &Checked, answers: &[Answer]) -> (Vec<Way>, Vec<Option<String>>) {
        let mut job = Job::new(&only(checked).graph, &checked.world.units, "source");
        let ways = answers.iter().map(|answer| job.answer(answer, "now").expect("an answer").way);
        let ways = ways.collect();
        assert_eq!(job.record().broken(), None);
        (ways, job.record().entries.iter().map(|entry| entry.noting.clone()).collect())
    }

    fn typed(text: &str) -> Answer {
        Answer::Typed(vec![text.to_owned()])
    }

    #[test]
    fn the_gauge_decides_both_sides() {
        let checked = checked(BELT);
        for (reading, way) in [
            ("5.5", Way::Otherwise),
            ("6", Way::Accepted),
            ("7", Way::Accepted),
            ("10", Way::Accepted),
            ("10.5", Way::Otherwise),
        ] {
            let (ways, notes) = job(&checked, &[Answer::Picked(0), typed(reading)]);
            assert_eq!(ways, [Way::Arm(0), way], "{reading}");
            assert_eq!(notes, [None, None], "{reading}");
        }
    }

    #[test]
    fn the_sag_finds_a_slack_belt_and_says_what_it_does_not_find() {
        let checked = checked(BELT);
        let open = "not decided: tension too high. Look for a hot bearing.";
        for (reading, way, noting) in [
            ("0", Way::Accepted, Some(open)),
            ("6", Way::Accepted, Some(open)),
            ("6.5", Way::Otherwise, None),
        ] {
            let answers = [Answer::Picked(1), Answer::Done, typed(reading)];
            let (ways, notes) = job(&checked, &answers);
            assert_eq!(ways, [Way::Arm(1), Way::Next, way], "{reading}");
            assert_eq!(notes.last().expect("an entry").as_deref(), noting, "{reading}");
        }
    }

    /// A record is in the language of its library, and so is what no author wrote.
    #[test]
    fn what_is_left_open_is_recorded_in_the_language_of_the_library() {
        for (language, open) in [
            ("en", "not decided: tension too high. Look for a hot bearing."),
            ("de", "nicht entschieden: tension zu hoch. Look for a hot bearing."),
        ] {
            let settings = format!("publisher: Kestmoor\nlanguage: {language}\n");
            let files = BTreeMap::from([
                ("case.lkn".to_owned(), BELT.to_owned()),
                ("library.yaml".to_owned(), settings),
            ]);
            let checked = check_in_memory(&files);
            let answers = [Answer::Picked(1), Answer::Done, typed("0")];
            let (_, notes) = job(&checked, &answers);
            assert_eq!(notes.last().expect("an entry").as_deref(), Some(open));
        }
    }

    #[test]
    fn from_an_undecided_substitute_the_better_instrument_can_be_taken() {
        let checked = checked(
            r#"
instrument micrometer  { measures length 0 .. 50 mm, resolution 0.01 mm, error 0.01 mm }
instrument slide-gauge { measures length 0 .. 150 mm, resolution 0.02 mm, error 0.02 mm }
model lathe { title "Bench lathe" }
procedure check-journal on lathe {
  title "Check the journal"
  measure journal using micrometer, expect 24 .. 26 mm {
    accept 24.90 .. 25.10 mm guarded
    or using slide-gauge accept 24.90 .. 25.10 mm
    otherwise stop "Renew the shaft."
  }
}
"#,
        );
        let mut job = Job::new(&only(&checked).graph, &checked.world.units, "source");
        let which = job.ask();
        assert_eq!(job.answer(&Answer::Picked(1), "now").expect("an answer").way, Way::Arm(1));
        assert_eq!(job.answer(&typed("25.10"), "now"), Err(Refused::UndecidedHere));
        assert_eq!(job.ask(), which);
        assert_eq!(job.answer(&Answer::Picked(0), "now").expect("an answer").way, Way::Arm(0));
        assert_eq!(job.answer(&typed("25.08"), "now").expect("an answer").way, Way::Accepted);
        let ways: Vec<&str> = job.record().entries.iter().map(|entry| entry.way.as_str()).collect();
        assert_eq!(ways, ["arm 1", "undecided", "arm 0", "accepted"]);
        assert_eq!(job.record().broken(), None);
        let composed = compose(&checked, only(&checked), "en", None);
        let sheet = locknut_sheet::text(&composed.sheet).replace('\u{a0}', " ");
        assert!(sheet.contains("is undecided: take the micrometer and answer again"), "{sheet}");
    }

    #[test]
    fn the_sheet_names_a_substitute_that_is_coarser() {
        let checked = checked(
            r#"
instrument slide-gauge { measures length 0 .. 150 mm, resolution 0.02 mm, error 0.04 mm }
instrument rule        { measures length 0 .. 300 mm, resolution 0.5 mm, error 0.25 mm }
instrument old-gauge   { measures length 0 .. 150 mm, resolution 0.02 mm, error 1 % of reading }
model lathe { title "Bench lathe" }
procedure check-bed on lathe {
  title "Check the bed"
  measure rest using slide-gauge, expect 10 .. 90 mm {
    accept 20 .. 60 mm
    or using rule accept 20 .. 60 mm
    or using old-gauge accept 20 .. 60 mm
    otherwise stop "Renew the bed."
  }
  measure head using rule, expect 10 .. 90 mm {
    accept 20 .. 60 mm
    or using slide-gauge accept 20 .. 60 mm
    otherwise stop "Renew the head."
  }
}
"#,
        );
        let said = |language, wanted: &[&str], times: usize| {
            let composed = compose(&checked, only(&checked), language, None);
            let sheet = locknut_sheet::text(&composed.sheet).replace('\u{a0}', " ");
            for wanted in wanted {
                assert_eq!(sheet.matches(wanted).count(), times, "{wanted}: {sheet}");
            }
        };
        let en = [
            "This reads only to 0.5 mm: the slide gauge reads to 0.02 mm.",
            "This may be wrong by up to 0.25 mm: the slide gauge by up to 0.04 mm.",
            // 1 % of 60 mm, and half a step.
            "This may be wrong by up to 0.61 mm: the slide gauge by up to 0.04 mm.",
        ];
        said("en", &en, 1);
        said("en", &["This reads only to"], 1);
        said("en", &["This may be wrong"], 2);
        said("de", &["Hier wird nur auf 0,5 mm abgelesen"], 1);
    }

    #[test]
    fn the_proof_says_what_it_takes_from_the_author() {
        let checked = checked(BELT);
        let assumed: Vec<String> =
            assumptions(&only(&checked).graph).into_iter().map(|one| one.what).collect();
        let all = assumed.join("\n");
        assert!(all.contains("sag tells of tension what its line says"), "{all}");
        assert!(all.contains("tension is not too high where the steel rule is used"), "{all}");
    }

    #[test]
    fn the_sheet_tells_each_way_and_what_it_leaves_open() {
        let checked = checked(BELT);
        let sheet = |language| {
            let composed = compose(&checked, only(&checked), language, None);
            locknut_sheet::text(&composed.sheet).replace('\u{a0}', " ")
        };
        let sheet_en = sheet("en");
        for said in [
            "Check the tension with the first of these that is at hand",
            "This does not tell whether the tension is too high.",
            "Look for a hot bearing.",
            "Or steel rule, where there is no belt gauge",
            "firm thumb pressure",
            "Follow what stands above for a tension that the belt gauge shows to be outside",
        ] {
            assert!(sheet_en.contains(said), "{said}:\n{sheet_en}");
        }
        let sheet_de = sheet("de");
        for said in ["Dies zeigt nicht, ob", "zu hoch ist", "Oder steel rule (statt: belt gauge)"] {
            assert!(sheet_de.contains(said), "{said}:\n{sheet_de}");
        }
    }

    #[test]
    fn a_card_answers_with_yes_or_no() {
        let checked = checked(CHAIN);
        for (answer, way) in [(0, Way::Arm(0)), (1, Way::Arm(1))] {
            let (ways, notes) = job(&checked, &[Answer::Picked(1), Answer::Picked(answer)]);
            assert_eq!(ways, [Way::Arm(1), way]);
            assert_eq!(notes, [None, None], "it decides all that the rule decides");
        }
        let composed = compose(&checked, only(&checked), "en", None);
        let sheet = locknut_sheet::text(&composed.sheet).replace('\u{a0}', " ");
        for said in [
            "With the wear card: is the twenty links at most 259 mm?",
            "common practice",
            "only at most 259 mm",
        ] {
            assert!(sheet.contains(said), "{said}:\n{sheet}");
        }
    }

    #[test]
    fn the_document_says_it_too() {
        let schema = serde_json::from_str(locknut_data::SCHEMA).expect("the schema is JSON");
        let validator = jsonschema::validator_for(&schema).expect("the schema is a schema");
        for text in [BELT, CHAIN] {
            let checked = checked(text);
            let Compiled { graph, facts, .. } = only(&checked);
            let units = &checked.world.units;
            let document = locknut_data::graph_json(graph, facts, units).expect("JSON");
            let document: serde_json::Value = serde_json::from_str(&document).expect("JSON");
            let errors: Vec<String> =
                validator.iter_errors(&document).map(|error| error.to_string()).collect();
            assert!(errors.is_empty(), "{errors:?}");
            let open = if text == BELT {
                r#""open":["high"],"other":true"#
            } else {
                r#""open":[],"other":false"#
            };
            assert!(document.to_string().contains(open), "{document}");
        }
    }

    /// What can be done in as many ways is proved in as many ways.
    #[test]
    fn each_instrument_is_a_way_of_its_own() {
        for (text, ways) in [(BELT, 4_u32), (CHAIN, 4)] {
            let checked = checked(text);
            let graph = &only(&checked).graph;
            let mut open = vec![graph.start];
            let mut ends = 0;
            while let Some(node) = open.pop() {
                let out = graph.ways(node);
                ends += u32::from(out.is_empty());
                open.extend(out.into_iter().map(|(_, _, to)| to));
            }
            assert_eq!(ends, ways);
        }
    }
}
