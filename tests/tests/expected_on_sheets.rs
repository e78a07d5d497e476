//! Terminal and page take no reading that is not expected; the sheet says so wherever it alone would let one go on.

use locknut_library::{check_in_memory, compose};
use locknut_quantity::System;
use locknut_tests::run::message_of;
use std::collections::BTreeMap;

const BENCH: &str = r#"
instrument rule { measures length 0 .. 40 mm, resolution 0.1 mm, error 0.05 mm }
model bench {
  title "Bench"
  part  rest
}
procedure look on bench {
  title "Look"
  measure bare using rule, expect 1 .. 12 mm
  measure whole using rule, expect 0 .. 40 mm
  measure inside using rule, expect 2 .. 13 mm {
    accept 3 .. 9 mm
    otherwise refer to "the foreman"
  }
  measure wider using rule, expect 3 .. 14 mm {
    accept at least 4 mm
    otherwise refer to "the foreman"
  }
  measure answered using rule, expect 4 .. 15 mm {
    accept 5 .. 9 mm
    otherwise go on noting "Look again in a month."
  }
  measure sorted using rule, expect 5 .. 16 mm {
    at most 9 mm -> go on
    over 9 mm    -> stop "Too wide."
  }
  count teeth expect 0 .. 17
  note "{bare}, {whole}, {teeth}"
}
"#;

fn sheet(language: &str, system: Option<System>) -> String {
    let library = BTreeMap::from([
        (
            "library.yaml".to_owned(),
            "publisher: Kestmoor\nlanguage: en\nalso-in: [de]\n".to_owned(),
        ),
        ("bench.lkn".to_owned(), BENCH.to_owned()),
    ]);
    let checked = check_in_memory(&library);
    let message = message_of(&checked.reports, &checked.sources);
    let Some(one) = checked.procedure("look") else { return message };
    locknut_sheet::text(&compose(&checked, one, language, system).sheet).replace('\u{a0}', " ")
}

#[test]
fn it_stands_where_another_reading_would_go_on_and_nowhere_else() {
    let said = sheet("en", None);
    let told: Vec<&str> =
        said.lines().map(str::trim).filter(|line| line.contains("Expected: ")).collect();
    let value = |range: &str| {
        format!("! Expected: {range}. With any other value do not go on: measure again.")
    };
    let wanted = [
        value("1 to 12 mm"),
        value("3 to 14 mm"),
        value("4 to 15 mm"),
        value("5 to 16 mm"),
        "! Expected: 0 to 17. With any other number do not go on: count again.".to_owned(),
    ];
    assert_eq!(told, wanted, "{said}");
}

#[test]
fn it_is_said_in_the_language_of_the_sheet() {
    let said = sheet("de", None);
    assert!(
        said.contains(
            "Erwartet: 1 bis 12 mm. Mit einem anderen Wert nicht weiterarbeiten: noch einmal messen."
        ),
        "{said}"
    );
}

/// 1 mm is 0.03937 inch and 12 mm 0.47244 inch: drawn in by less than the 0.1 mm that the rule shows.
#[test]
fn in_another_unit_no_digit_of_the_gauge_is_lost() {
    let said = sheet("en", Some(System::Us));
    let line = said.lines().find(|line| line.contains("Expected: 0.0")).unwrap_or(&said);
    let figures = line.split_whitespace().filter_map(|word| word.parse::<f64>().ok());
    let [low, high] = figures.collect::<Vec<_>>()[..] else { panic!("{line}") };
    assert!((0.039_37..0.043).contains(&low) && (0.469..0.472_45).contains(&high), "{line}");
}
