//! What is owed at the end is put back where it is owed: never right behind what made it so.

use locknut_tests::mended::{checked, first_mend};

fn mend_of(steps: &str) -> Option<String> {
    mend_with("LN507", "", steps)
}

/// The first mend with a change of a finding, where the lamp has these parts and its job, once unplugged, these steps.
fn mend_with(code: &str, parts: &str, steps: &str) -> Option<String> {
    let procedure = format!(
        "procedure change on lamp {{\n  title \"Change the bulb\"\n  step \"Pull the plug.\" {{ set plug to pulled-out }}\n{steps}}}\n"
    );
    let model = format!(
        "model lamp {{\n  title \"Lamp\"\n  state plug : in-socket, pulled-out\n{parts}}}\n"
    );
    let checked = checked(&format!("{model}{procedure}"));
    first_mend(&checked, code).map(|mend| mend.text)
}

#[test]
fn an_arm_that_ends_the_job_puts_back_first() {
    let mend = mend_of(
        "  step \"Look.\" {
    observe bulb \"Is the bulb whole?\" {
      yes -> done
      no  -> go on
    }
  }
  step \"Plug it in.\" { set plug to in-socket }
",
    );
    assert_eq!(
        mend.as_deref(),
        Some("write `{ set plug to in-socket } then` ahead of `done` in line 10")
    );
}

#[test]
fn what_is_done_last_is_put_back_last() {
    let mend = mend_of(
        "  step \"Change the bulb.\" { confirm \"The new bulb is in.\" }
",
    );
    assert_eq!(mend.as_deref(), Some("write `set plug to in-socket` at the end"));
}

#[test]
fn where_some_arms_have_done_so_the_arm_that_has_not_is_left_to_the_author() {
    let mend = mend_of(
        "  step \"Look.\" {
    observe bulb \"Is the bulb whole?\" {
      yes -> done
      no  -> done
    }
  }
",
    );
    assert_ne!(mend.as_deref(), Some("write `set plug to in-socket` behind this line"));
}

/// What is half done is gone on with where it is: bolts that were fitted are tightened behind that line, ahead of all
/// that follows.
#[test]
fn bolts_that_were_fitted_are_tightened_where_they_were_fitted() {
    let mend = mend_with(
        "LN605",
        "  part cover\n  bolts cover-bolts : 4, fastens cover\n",
        "  step \"Open.\" {
    remove cover-bolts
    remove cover
  }
  step \"Close.\" {
    fit cover
    fit cover-bolts
  }
  step \"Plug it in.\" { set plug to in-socket }
",
    );
    assert_eq!(mend.as_deref(), Some("write `tighten cover-bolts` behind this line"));
}

/// How hard is said as the other lines say it.
#[test]
fn what_is_tightened_again_is_tightened_as_the_others_are() {
    let mend = mend_with(
        "LN605",
        "  part cover\n  part base\n  bolts cover-bolts : 4, fastens cover\n  bolts base-bolts : 4, fastens base\n",
        "  step \"Open.\" {
    slacken base-bolts
    tighten base-bolts with one-hand
    remove cover-bolts
  }
  step \"Close.\" {
    fit cover-bolts
  }
  step \"Plug it in.\" { set plug to in-socket }
",
    );
    assert_eq!(mend.as_deref(), Some("write `tighten cover-bolts with one-hand` behind this line"));
}
