//! Where a machine may not be left, as its sheet says it.

use std::collections::BTreeMap;

const DRIVE: &str = r#"
assembly drive {
  title "Drive"
  state mains : live, isolated
  part  cover
}
model mixer {
  title "Mixer"
  made of drive
  safe to leave when mains is isolated
}
model kneader {
  title "Kneader"
  made of drive
  safe to leave when cover is in-place
}
procedure look-at-belt on drive {
  title "Look at the belt"
  step "Isolate it." { set mains to isolated }
  step "Open it." { remove cover }
  step "Shut it." { fit cover }
  step "Switch on." { set mains to live }
  step "Listen." { confirm "It runs evenly." }
}
"#;

#[test]
fn the_one_sheet_of_several_models_marks_where_any_of_them_may_not_be_left() {
    let files = BTreeMap::from([("drive.lkn".to_owned(), DRIVE.to_owned())]);
    let checked = locknut_library::check_in_memory(&files);
    assert!(!checked.has_errors());
    let procedure = checked.procedures.first().unwrap();
    let steps: Vec<u16> = procedure.facts.do_not_leave.keys().map(|step| step.0).collect();
    // The kneader while its cover is off; the mixer while its mains is live.
    assert_eq!(steps, [1, 3]);
}

const PRESS: &str = r#"
model press {
  title "Press"
  state mains : live, isolated
  part  lid
  safe to leave when mains is isolated and lid is in-place
}
procedure look on press {
  title "Look"
  step "Isolate it." { set mains to isolated }
  step "Open it." { remove lid }
  step "Look in." {
    observe dirt "Is it dirty?" {
      no  -> go on
      yes -> {
        step "Brush it." { confirm "It is clean." }
      } then go on
    }
  }
  step "Shut it." { fit lid }
  step "Switch on." { set mains to live }
}
"#;

#[test]
fn a_bar_says_what_makes_it_so_and_none_stands_at_the_end_of_the_job() {
    let files = BTreeMap::from([("press.lkn".to_owned(), PRESS.to_owned())]);
    let checked = locknut_library::check_in_memory(&files);
    assert!(checked.reports.is_empty(), "{:?}", checked.reports);
    let procedure = checked.procedures.first().unwrap();
    let sheet = locknut_library::compose(&checked, procedure, "en", None).sheet;
    let said = locknut_sheet::text(&sheet);
    let bars: Vec<&str> =
        said.lines().filter_map(|line| line.split_once("||| ")).map(|(_, bar)| bar).collect();
    // While the lid is off: of what stands, that alone keeps the fitter here. Behind "Switch on." the job is done.
    assert_eq!(bars, ["Do not leave the machine here: lid: off."; 3], "{said}");
}
