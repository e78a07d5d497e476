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
}
"#;

#[test]
fn the_one_sheet_of_several_models_marks_where_any_of_them_may_not_be_left() {
    let files = BTreeMap::from([("drive.lkn".to_owned(), DRIVE.to_owned())]);
    let checked = locknut_library::check_in_memory(&files);
    assert!(!checked.has_errors());
    let procedure = checked.procedures.first().unwrap();
    let steps: Vec<u16> = procedure.facts.do_not_leave.iter().map(|step| step.0).collect();
    // The kneader while its cover is off; the mixer while its mains is live.
    assert_eq!(steps, [1, 3]);
}
