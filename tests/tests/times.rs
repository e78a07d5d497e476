//! Times on the sheet: of the variants the widest, and waiting is what nobody works through.

use locknut_library::{check_in_memory, compose};
use locknut_tests::run::message_of;
use std::collections::BTreeMap;

/// The sheet of the one procedure in a source; what is wrong with it, where it has none.
fn sheet_of(source: &str) -> String {
    let library = BTreeMap::from([
        ("library.yaml".to_owned(), "publisher: Kestmoor\nlanguage: en\n".to_owned()),
        ("press.lkn".to_owned(), source.to_owned()),
    ]);
    let checked = check_in_memory(&library);
    let message = message_of(&checked.reports, &checked.sources);
    let Some(one) = checked.procedure("look") else { return message };
    locknut_sheet::text(&compose(&checked, one, "en", None).sheet).replace('\u{a0}', " ")
}

/// A: 1 + 7 + (1, 2, 6) min; B: 10 + 7 + (1, 2, 6) min.
#[test]
fn the_times_of_all_variants_are_told() {
    let said = sheet_of(
        r#"
model press {
  title "Press"
  series A, B
  state mains : live, isolated
}
procedure look on press {
  title "Look"
  for series A or B
  crew fitter, mate
  when series A { step "Off." by fitter, takes 1 min { set mains to isolated } }
  otherwise { step "Off." by fitter, takes 10 min { set mains to isolated } }
  step "Both." by all, takes 7 min { confirm "locked" }
  step "On." takes 1 .. 2 .. 6 min { set mains to live }
}
"#,
    );
    assert!(said.contains("From start to end | 19 min (9 min to 23 min)"), "{said}");
    assert!(said.contains("Fitter | 17 min at work"), "{said}");
    assert!(said.contains("Mate | 7 min at work"), "{said}");
}

/// 30 min from the end of the first step; in 22 of them somebody works.
#[test]
fn waiting_is_what_nobody_works_through() {
    let said = sheet_of(
        r#"
model press {
  title "Press"
  state mains : live, isolated
}
procedure look on press {
  title "Look"
  crew fitter, mate
  step off "Off." by fitter, takes 1 min { set mains to isolated }
  together {
    fitter { step "Look." takes 4 min { confirm "looked" } }
    mate { step "Clean." takes 19 min { confirm "clean" } }
  }
  step "Tell." by fitter, takes 3 min { confirm "told" }
  wait 30 min since off
  step "On." by fitter, takes 2 min { set mains to live }
}
"#,
    );
    assert!(said.contains("From start to end | 33 min"), "{said}");
    assert!(said.contains("Of it waiting | 8 min"), "{said}");
}
