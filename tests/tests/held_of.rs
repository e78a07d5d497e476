//! Of which procedures it is said that they hold: of none that anything is wrong with, wherever that stands.

use locknut_library::{Checked, check_again};

const MODEL: &str = "assembly head {
  title \"Head\"
  state jaw : shut, apart
  part cap
  never cap is removed unless jaw is apart because \"it springs out\"
}
model press { title \"Press\"
  made of head
}
";
const PROCEDURES: &str = "procedure faulty on head {
  title \"Faulty\"
  step \"Open it.\" { do inner }
}
procedure sound on head {
  title \"Sound\"
  step \"Open it.\" {
    set jaw to apart
    remove cap
    fit cap
    set jaw to shut
  }
}
";
const SUBTASK: &str = "subtask inner on head {
  title \"Inner\"
  step \"Open it.\" {
    remove cap
    fit cap
  }
}
";

fn held(checked: &Checked) -> Vec<&str> {
    let held = checked.proved.iter().filter(|one| !one.wrong);
    held.map(|one| one.name.as_str()).collect()
}

fn files(more: &str) -> Vec<(String, Vec<u8>)> {
    [
        ("library.yaml", "publisher: Kestmoor\n".to_owned()),
        ("m.lkn", MODEL.to_owned()),
        ("p.lkn", format!("{PROCEDURES}{more}")),
        ("s.lkn", SUBTASK.to_owned()),
    ]
    .map(|(name, text)| (name.to_owned(), text.into_bytes()))
    .to_vec()
}

#[test]
fn a_fault_in_a_subtask_of_another_file_is_its_callers() {
    let (checked, after) = check_again(files(""), &[]);
    assert!(checked.has_errors());
    assert_eq!(held(&checked), ["sound"]);
    // What is remembered says the same.
    let (again, _) = check_again(files("// One line more.\n"), &after.unwrap_or_default());
    assert_eq!(held(&again), ["sound"]);
}

#[test]
fn where_the_model_is_wrong_nothing_is_said_to_hold() {
    let mut all = files("");
    all[1].1.extend(b"model other { title \"Other\"\n  part rod : behind nothing-known }\n");
    let (checked, _) = check_again(all, &[]);
    assert!(checked.has_errors());
    assert_eq!(held(&checked), [""; 0]);
}
