//! One word for one state in every output, and in every language.

use locknut_library::compose;
use locknut_tests::files::{below, root, text};
use locknut_tests::mended::checked;
use std::collections::BTreeSet;

/// The phrases that a language has.
fn phrases(language: &str) -> BTreeSet<String> {
    let file = text(&root().join(format!("stdlib/phrases/{language}.ftl")));
    let key = |line: &str| Some(line.split_once(" =")?.0.trim().to_owned());
    file.lines().filter_map(key).collect()
}

#[test]
fn every_state_of_the_standard_elements_has_a_german_word() {
    let known = phrases("de");
    let mut count = 0;
    for file in below(&root().join("stdlib/elements"), ".lkn") {
        let mut element = String::new();
        for line in text(&file).lines() {
            if let Some(name) = line.strip_prefix("element ") {
                element = name.trim_end_matches(" {").to_owned();
            }
            let Some(states) = line.trim().strip_prefix("states ") else { continue };
            for state in states.split(',').map(str::trim) {
                count += 1;
                let said = [format!("value-{state}"), format!("value-{element}-{state}")];
                assert!(said.iter().any(|key| known.contains(key)), "{element}: {state}");
            }
        }
    }
    assert!(count > 30, "only {count} states were found");
}

const BRAKE: &str = r#"instrument rule { measures length 0 .. 10 inch, resolution 0.1 inch, error 0.05 inch }
model brake {
  title "Brake"
  state drum : free, pinned
  part  yoke
  cover hatch
}
procedure look on brake {
  title "Look"
  step "Take it off." { remove yoke
    open hatch }
  step "Look." {
    measure gap using rule, expect 0 .. 5 inch {
      accept at most 2 inch
      otherwise refer to "The smith; it was {gap}"
    }
  }
  step "Back." { close hatch
    fit yoke }
}
"#;

#[test]
fn programs_have_the_words_of_the_sheet_for_states_and_ends() {
    let checked = checked(BRAKE);
    assert!(!checked.has_errors(), "{:?}", checked.reports);
    let one = checked.procedures.first().expect("a procedure");
    for (language, words) in
        [("en", ["yoke: off", "hatch: open"]), ("de", ["yoke: ausgebaut", "hatch: offen"])]
    {
        let sheet = compose(&checked, one, language, None).sheet;
        let said = locknut_sheet::text(&sheet);
        let states: Vec<String> = sheet.states.values().map(|state| state.said(1)).collect();
        assert_eq!(states, words, "{language}");
        for word in words {
            assert!(said.contains(word), "{language} {word}: {said}");
        }
        // What was read stands where the reading is named.
        let end = sheet.ends.values().next().expect("an end");
        assert!(matches!(end.as_slice(), [_, locknut_sheet::Said::Reading(_)]), "{end:?}");
    }
}

#[test]
fn a_german_sheet_has_german_words_for_units_and_no_small_letter_behind_a_full_stop() {
    let checked = checked(BRAKE);
    let one = checked.procedures.first().expect("a procedure");
    let said = locknut_sheet::text(&compose(&checked, one, "de", None).sheet);
    assert!(said.contains("Zoll") && !said.contains("inch"), "{said}");
    for library in ["procedures", "examples"] {
        let checked = locknut_library::check_in_memory(&locknut_tests::files::library(library));
        for one in &checked.procedures {
            let said = locknut_sheet::text(&compose(&checked, one, "de", None).sheet);
            for (before, after) in said.match_indices(". ").map(|(at, _)| said.split_at(at + 2)) {
                let word =
                    before.trim_end_matches(". ").rsplit([' ', '\n']).next().unwrap_or_default();
                let small = after.starts_with(char::is_lowercase);
                assert!(
                    !small || word.len() <= 2,
                    "{word}. {}",
                    after.lines().next().unwrap_or_default()
                );
            }
        }
    }
}

/// Whether a name says one thing or several no vocabulary tells: what is said of it must read right either way.
#[test]
fn no_english_line_has_an_article_that_a_name_in_the_plural_cannot_bear() {
    let source = r#"model brake {
  title "Brake"
  part pads
  part yoke
}
procedure renew on brake {
  title "Renew the pads"
  step "New ones." {
    renew pads
    renew yoke
  }
}
"#;
    let checked = checked(source);
    let compiled = checked.procedure("renew").expect("a procedure");
    let said = locknut_sheet::text(&compose(&checked, compiled, "en", None).sheet);
    assert!(said.contains("Fit the new pads.") && said.contains("Fit the new yoke."), "{said}");
    let file = text(&root().join("stdlib/phrases/en.ftl"));
    for line in file.lines().filter(|line| line.contains("{ $thing }")) {
        let words: Vec<&str> = line.split_whitespace().collect();
        let at = words.windows(2).position(|pair| pair == ["{", "$thing"]).unwrap_or_default();
        let before = words.get(at.saturating_sub(2)..at).unwrap_or_default();
        assert!(!before.iter().any(|word| ["a", "an", "one"].contains(word)), "{line}");
    }
}
