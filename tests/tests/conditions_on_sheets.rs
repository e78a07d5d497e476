//! What a fitter reads of conditions, repeats and ends is what was proved: no bracket, proof, time or list is lost.

use locknut_library::{check_in_memory, compose};
use locknut_tests::run::message_of;
use std::collections::BTreeMap;

/// The sheet of the one procedure in a source; what is wrong with it, where it has none.
fn sheet_of(source: &str, language: &str) -> String {
    let library = BTreeMap::from([
        (
            "library.yaml".to_owned(),
            "publisher: Kestmoor\nlanguage: en\nalso-in: [de]\n".to_owned(),
        ),
        ("bench.lkn".to_owned(), source.to_owned()),
    ]);
    let checked = check_in_memory(&library);
    let message = message_of(&checked.reports, &checked.sources);
    let Some(one) = checked.procedure("look") else { return message };
    locknut_sheet::text(&compose(&checked, one, language, None).sheet).replace('\u{a0}', " ")
}

const CONDITIONS: &str = r#"
model bench {
  title "Bench"
  series A, B
  state heat : cold, warm, hot
  state fan  : still, running
  state mains : live, isolated
}
procedure look on bench {
  title "Look"
  measure gap using rule, expect 0 .. 5 mm
  observe noise "Does it rattle?" {
    yes -> {
      set heat to hot
      set mains to isolated
    }
    no  -> {
      set heat to warm
      set fan to running
    }
  }
  when series A and (noise is yes or gap over 2 mm) { confirm "one" }
  when (series A and noise is yes) or gap over 2 mm { confirm "two" }
  when mains is proved isolated { confirm "three" }
  when heat is hot for 90 s { confirm "four" }
  when not (heat is hot and fan is still) { confirm "five" }
  when heat is not hot and fan is running { confirm "six" }
  when heat is hot or warm and fan is running { confirm "seven" }
  when mains is not proved isolated { confirm "eight" }
  set heat to cold
  set fan to still
  set mains to live
}
instrument rule { measures length 0 .. 300 mm, resolution 0.5 mm, error 0.5 mm }
"#;

#[test]
fn what_hangs_together_stays_together() {
    let said = sheet_of(CONDITIONS, "en");
    for only in [
        "Only where series A and (noise: yes or gap over 2 mm):",
        "Only where (series A and noise: yes) or gap over 2 mm:",
        "Only where mains: isolated, and that was proved:",
        "Only where heat: hot, for 1 min 30 s at least:",
        "Only where (heat: cold or warm) or fan: running:",
        "Only where (heat: cold or warm) and fan: running:",
        "Only where (heat: warm or hot) and fan: running:",
        "Only where not (mains: isolated, and that was proved):",
    ] {
        assert!(said.contains(only), "{only}\n{said}");
    }
    let said = sheet_of(CONDITIONS, "de");
    assert!(said.contains("Nur bei mains: isolated, und das ist nachgewiesen:"), "{said}");
    assert!(said.contains("Nur bei heat: hot, seit mindestens 1 min 30 s:"), "{said}");
}

/// What is done before a round, and what when no rounds are left.
const ROUNDS: &str = r#"
model bench {
  title "Bench"
  state mains : live, isolated
  part guard
}
procedure look on bench {
  title "Look"
  step "Switch off." { set mains to isolated }
  step look "Look behind the guard." {
    remove guard
    observe clean "Is it clean?" {
      yes -> { fit guard }
      no  -> { fit guard } then repeat look up to 2 times, failing that { set mains to live } then stop "Tell the lead."
    }
  }
  step "Is it dry?" { observe dry "Is it dry?" {
    yes -> done
    no  -> go on
  } }
  step "Wipe it." { confirm "wiped" }
  at the end { step "Switch on." {
    set mains to live
    observe runs "Does it run?" {
      yes -> done
      no  -> stop "Tell the lead."
    }
  } }
}
"#;

#[test]
fn what_is_done_before_a_round_is_not_listed_with_what_is_done_after_the_last() {
    let said = sheet_of(ROUNDS, "en");
    let lines: Vec<&str> = said.lines().map(str::trim).collect();
    let at = |line: &str| {
        lines
            .iter()
            .position(|one| one.starts_with(line))
            .unwrap_or_else(|| panic!("{line}\n{said}"))
    };
    let before = at("-> No: Do what follows. Then repeat from step 2, 2 times at most.");
    let after = at("Still so after that: First do what follows, then: Stop. Tell the lead.");
    assert_eq!(lines[before + 1], "[ ] Fit the guard.", "{said}");
    assert_eq!(after, before + 2, "{said}");
    assert_eq!(lines[after + 1], "[ ] Bring the mains to “live”.", "{said}");
}

#[test]
fn a_job_is_not_called_done_while_its_end_is_still_to_do() {
    let said = sheet_of(ROUNDS, "en");
    assert!(
        said.contains("-> Yes: Do nothing more but what stands under “At the end”: go to step 5."),
        "{said}"
    );
    // The reading at the end has nothing more behind it.
    assert_eq!(said.matches("The job is done.").count(), 1, "{said}");
}

/// A limit in a condition is told as one beside a box: in the reader's words and decimal sign, and in the unit of the box.
#[test]
fn a_limit_in_a_condition_is_told_in_the_language_of_the_sheet() {
    let source = r#"
instrument rule { measures length 0 .. 300 mm, resolution 0.5 mm, error 0.5 mm }
model bench { title "Bench" }
procedure look on bench {
  title "Look"
  measure gap at left, right using rule, expect 0 .. 50.0 mm
  measure play using rule, expect 0 .. 50.0 mm
  when play over 2.5 mm { confirm "one" }
  when play 0.25 .. 0.5 cm { confirm "two" }
  when max(gap) - min(gap) at least 1.5 mm { confirm "three" }
}
"#;
    let english = sheet_of(source, "en");
    for line in
        ["play over 2.5 mm", "play 2.5 to 5.0 mm", "greatest gap − smallest gap at least 1.5 mm"]
    {
        assert!(english.contains(line), "{line}: {english}");
    }
    let german = sheet_of(source, "de");
    for line in ["play über 2,5 mm", "play 2,5 bis 5,0 mm", "mindestens 1,5 mm"] {
        assert!(german.contains(line), "{line}: {german}");
    }
}

/// What is looked up or named in another unit stands beside its box in the unit of the box, where it comes out even.
#[test]
fn a_limit_stands_in_the_unit_of_its_box() {
    let source = r#"
instrument thermometer { measures temperature 0 .. 40 °C, resolution 1 °C, error 1 °C }
instrument hygrometer  { measures ratio 0 .. 100 %, resolution 1 %, error 0.01 parts }
instrument rule        { measures length 0 .. 300 mm, resolution 0.5 mm, error 0.5 mm }
table sag : temperature -> length { 10 °C -> 0.4 .. 1.2 cm, 20 °C -> 0.6 .. 1.5 cm, take next lower }
limit damp   = at most 0.35
limit length = 1.2 .. 1.8 cm
model bench { title "Bench" }
procedure look on bench {
  title "Look"
  measure air using thermometer, expect 10 .. 20 °C
  measure slack using rule, expect 0 .. 50.0 mm {
    accept sag(air)
    otherwise stop "Lay it aside."
  }
  measure bolt using rule, expect 0 .. 50.0 mm {
    accept length
    otherwise stop "Lay it aside."
  }
  measure wet using hygrometer, expect 0 .. 90 % {
    accept damp
    otherwise stop "Let it dry."
  }
}
"#;
    let said = sheet_of(source, "en");
    for line in ["4 to 12 mm", "6 to 15 mm", "12 to 18 mm", "at most 35 %", "Over 35 %"] {
        assert!(said.contains(line), "{line}: {said}");
    }
    assert!(!said.contains(" cm"), "{said}");
}

/// A table that is printed whole is told in the unit of the box beside it, with its half-way line.
#[test]
fn a_whole_table_stands_in_the_unit_of_its_box() {
    let source = r#"
instrument tape { measures length 0 .. 5 m, resolution 1 mm, error 1 mm }
instrument rule { measures length 0 .. 300 mm, resolution 0.5 mm, error 0.5 mm }
table sag : length -> length { 2 m -> 0.4 .. 2.2 cm, 4 m -> 1.4 .. 3.5 cm, between in proportion }
model bench { title "Bench" }
procedure look on bench {
  title "Look"
  measure span using tape, expect 2 .. 4 m
  measure slack using rule, expect 0 .. 50.0 mm {
    accept sag(span)
    otherwise stop "Lay it aside."
  }
}
"#;
    let said = sheet_of(source, "en");
    for line in ["4 to 22 mm", "14 to 35 mm", "9.0 to 28.5 mm"] {
        assert!(said.contains(line), "{line}: {said}");
    }
    assert!(!said.contains(" cm"), "{said}");
}
