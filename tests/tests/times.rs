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

/// On paper the clock is read: there is a place for each time that counts, and programs say that they go by waits.
#[test]
fn clock_times_have_their_places_on_paper() {
    let source = r#"
model press {
  title "Press"
  series A, B
  state mains : live, isolated
}
procedure look on press {
  title "Look"
  step off "Off." { set mains to isolated }
  step "Look." { confirm "looked" }
  wait 30 min since off
  when mains is isolated for 45 min { step "Feel it." { confirm "cold" } }
  when series A { step "Oil it." { confirm "oiled" } }
  when mains is isolated for under 2 h { step "Hurry." { confirm "hurried" } }
  step "On." { set mains to live }
}
"#;
    let said = sheet_of(source);
    let lines: Vec<&str> =
        said.lines().map(str::trim).filter(|line| line.contains("__:__")).collect();
    let wait = "Started at __:__   Not before __:__";
    let under = "Started at __:__   Only before __:__";
    assert_eq!(
        lines,
        ["Mains: isolated, since __:__", "End of step 1 at __:__", wait, wait, under],
        "{said}"
    );
    assert!(said.contains("Which series is the machine?  [ ] A   [ ] B"), "{said}");
    // Ahead of the work, and of each step that asks.
    let [asked, first] = ["Which series", "1  Off."].map(|line| said.find(line).expect(line));
    assert!(asked < first, "{said}");
    let library = BTreeMap::from([("press.lkn".to_owned(), source.to_owned())]);
    let checked = check_in_memory(&library);
    let one = checked.procedure("look").expect("it is compiled");
    let sheet = compose(&checked, one, "en", None).sheet;
    let page = locknut_page::page(&[sheet], &one.graph, &one.facts, &checked.world.units, "");
    assert!(page.contains("this program by the waits alone") && !page.contains("Not before"));
}
