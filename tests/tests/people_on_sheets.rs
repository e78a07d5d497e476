//! What each of several people must read on the sheet: when to let go, and what may hurt them.

use locknut_library::{Checked, compose};
use locknut_tests::mended::checked;

/// The sheet of the one procedure; nothing where it has none.
fn sheet_of(checked: &Checked) -> String {
    let sheet = |one| locknut_sheet::text(&compose(checked, one, "en", None).sheet);
    checked.procedures.first().map(sheet).unwrap_or_default().replace('\u{a0}', " ")
}

const BEAM: &str = r#"model press {
  title "Press"
  state wedge : out, driven
  part  beam : held by hand until wedge is driven
  clips pins : 2, fastens beam
  danger "The beam falls." at pins while wedge is out
  danger "The wedge flies." at wedge-bolt
  bolts wedge-bolt : 1 of M8 class 8.8 dry
  safe to leave when pins is in-place
}
procedure hang on press {
  title "Hang the beam"
  crew miller, mate
  hold beam by mate until undo is done
  step undo "Undo it." by miller {
    remove pins, beam
  }
  hold beam "from below" by mate until fasten is done
  step fasten "Fasten it." by miller {
    fit beam
    fit pins
  }
  step "Nip the wedge." by mate { slacken wedge-bolt }
  step "Tighten the wedge." by miller { tighten wedge-bolt with one-hand }
}
"#;

/// The lines of a sheet from that on, up to the next step.
fn step<'s>(said: &'s str, from: &str) -> &'s str {
    let (_, rest) = said.split_once(from).unwrap_or_default();
    rest.split("\n\n").next().unwrap_or(rest)
}

#[test]
fn whoever_holds_is_told_at_the_end_of_the_step_to_let_go() {
    let checked = checked(BEAM);
    assert!(checked.reports.is_empty(), "{:?}", checked.reports);
    let said = sheet_of(&checked);
    let fasten = step(&said, "Fasten it.");
    let last = fasten.lines().rfind(|line| line.contains("[ ]"));
    assert_eq!(last.map(str::trim), Some("[ ] Mate: only now let go of the beam."), "{said}");
    // Once for each hold.
    assert_eq!(said.matches("only now let go").count(), 2, "{said}");
}

#[test]
fn a_hold_that_only_some_ways_begin_is_let_go_by_whoever_holds() {
    let some = BEAM.replace(
        "  hold beam \"from below\" by mate until fasten is done\n",
        "  observe floor \"Is the floor wet?\" {\n    yes -> { hold beam by mate until fasten is done } then go on\n    no -> { hold beam by mate until fasten is done } then go on\n  }\n",
    );
    let checked = checked(&some);
    let said = sheet_of(&checked);
    assert!(
        said.contains("Mate: if you hold the beam, let go of it only now."),
        "{said} {:?}",
        checked.reports
    );
}

#[test]
fn a_danger_stands_ahead_of_the_first_work_of_each_who_works_at_it() {
    let said = sheet_of(&checked(BEAM));
    // The mate holds what the pins hold, the miller undoes them.
    assert_eq!(said.matches("[DANGER] The beam falls.").count(), 2, "{said}");
    // Neither reads the steps of the other.
    for of in ["Nip the wedge.", "Tighten the wedge."] {
        let ahead = said.split(of).next().unwrap_or_default().trim_end_matches(|sign| sign != '\n');
        let above = ahead.trim_end().lines().last().unwrap_or_default();
        assert_eq!(above, "[DANGER] The wedge flies.", "ahead of {of}: {said}");
    }
}

#[test]
fn a_danger_is_told_once_to_whoever_does_both() {
    let alone = BEAM.replace("by mate { slacken", "by miller { slacken");
    let said = sheet_of(&checked(&alone));
    assert_eq!(said.matches("[DANGER] The wedge flies.").count(), 1, "{said}");
    let nobody =
        BEAM.replace("by mate { slacken", "{ slacken").replace("by miller { tighten", "{ tighten");
    let said = sheet_of(&checked(&nobody));
    assert_eq!(said.matches("[DANGER] The wedge flies.").count(), 1, "{said}");
}
