//! Mends that are offered: what is moved, what is left alone, and what one mend says of two faults.

use locknut_tests::mended::{checked, first_mend, made};

/// A shredder whose job has these steps between the plug pulled out and the end.
fn shredder(steps: &str) -> String {
    format!(
        "instrument tester {{ measures voltage 0 .. 500 V, resolution 1 V, error 1 V }}
model shredder {{
  title \"Shredder\"
  state mains : plugged-in, unplugged
  part  hopper
  part  knife : behind hopper
  clips hopper-clips : 4, fastens hopper
  never hopper is removed unless mains is unplugged for 30 s and mains is proved unplugged
    because \"the knife runs on\"
  safe to leave when mains is unplugged or hopper is in-place
}}
procedure renew-knife on shredder {{
  title \"Renew the knife\"
  step off \"Pull out the plug.\" {{ set mains to unplugged }}
{steps}}}
"
    )
}

const WAIT: &str = "  wait 30 s since off\n";
const PROVE: &str = "  step prove \"Prove it dead.\" {
    measure volts using tester, proves mains is unplugged {
      accept at most 12 V
      otherwise stop \"Call an electrician.\"
    }
  }
";
const OPEN: &str = "  step open \"Open it.\" {
    remove hopper-clips
    remove hopper
  }
";
const CHANGE: &str = "  step change \"Change the knife.\" {
    remove knife
    renew knife
  }
";
const CLOSE: &str = "  step close \"Close it.\" {
    fit hopper
    fit hopper-clips
  }
";
const ON: &str = "  step restart \"Plug it in.\" { set mains to plugged-in }\n";

/// The mend of this finding, the finding being the only one; made, it leaves nothing wrong.
fn only_mend(source: &str, code: &str) -> Option<String> {
    let found = checked(source);
    let codes: Vec<&str> = found.reports.iter().map(|report| report.code).collect();
    assert_eq!(codes, [code]);
    let mend = first_mend(&found, code)?;
    let again = checked(&made(source, &mend.edits));
    assert!(again.reports.is_empty(), "{:?}", again.reports);
    Some(mend.text)
}

#[test]
fn the_steps_of_the_job_leave_nothing_wrong() {
    let source = shredder(&[WAIT, PROVE, OPEN, CHANGE, CLOSE, ON].concat());
    assert!(checked(&source).reports.is_empty());
}

#[test]
fn the_power_goes_back_on_behind_the_whole_step_that_closes() {
    let source = shredder(&[WAIT, PROVE, OPEN, CHANGE, ON, CLOSE].concat());
    let mend = only_mend(&source, "LN502");
    assert_eq!(mend.as_deref(), Some("move the step in line 30 behind the step in line 31"));
}

#[test]
fn a_reading_moves_with_its_step_and_leaves_none_empty() {
    let source = shredder(&[WAIT, OPEN, PROVE, CHANGE, CLOSE, ON].concat());
    let mend = only_mend(&source, "LN505");
    assert_eq!(mend.as_deref(), Some("move the step in line 20 ahead of the step in line 16"));
}

#[test]
fn what_stands_in_the_way_is_told_once_and_moved_as_a_step() {
    let source = shredder(&[WAIT, PROVE, CHANGE, OPEN, CLOSE, ON].concat());
    let mend = only_mend(&source, "LN602");
    assert_eq!(mend.as_deref(), Some("move the step in line 22 behind the step in line 26"));
}

#[test]
fn an_act_that_is_done_twice_is_taken_away() {
    let twice = OPEN.replace("    remove hopper\n", "    remove hopper\n    remove hopper\n");
    let source = shredder(&[WAIT, PROVE, &twice, CHANGE, CLOSE, ON].concat());
    assert_eq!(
        only_mend(&source, "LN601").as_deref(),
        Some("take this line away: it is so already")
    );
}

#[test]
fn a_wait_ahead_of_what_it_counts_from_moves_behind_it() {
    let off = "  step off \"Pull out the plug.\" { set mains to unplugged }\n";
    let wait = "  wait 30 s\n";
    let source = shredder(&[PROVE, OPEN, CHANGE, CLOSE, ON].concat());
    let source = source.replace(off, &[wait, off].concat());
    assert_eq!(
        only_mend(&source, "LN506").as_deref(),
        Some("move line 14 behind the step in line 15")
    );
}

#[test]
fn of_two_faults_each_has_its_own_mend() {
    let open = CLOSE.replace("    fit hopper\n", "");
    let source = shredder(&["  wait 20 s since off\n", PROVE, OPEN, CHANGE, &open, ON].concat());
    let found = checked(&source);
    let mend = |code| first_mend(&found, code).map(|mend| mend.text);
    assert_eq!(mend("LN506").as_deref(), Some("write `wait 10 s` ahead of this line"));
    assert_eq!(mend("LN602").as_deref(), Some("write `fit hopper` ahead of this line"));
}

#[test]
fn a_moved_line_takes_its_comment_along() {
    let source = shredder(&[WAIT, PROVE, OPEN, CHANGE, CLOSE, ON].concat()).replace(
        "    fit hopper\n    fit hopper-clips\n",
        "    fit hopper-clips // four of them\n    fit hopper // the lid\n",
    );
    let found = checked(&source);
    let mend = first_mend(&found, "LN602").expect("a mend that can be made");
    assert_eq!(mend.text, "move this line behind line 32");
    let mended = made(&source, &mend.edits);
    assert!(
        mended.contains("    fit hopper // the lid\n    fit hopper-clips // four of them\n"),
        "{mended}"
    );
}

/// Side by side whoever comes second breaks the rule: the step moves out of the block.
#[test]
fn a_race_is_mended_by_taking_a_step_out_of_its_lane() {
    let source = "model drill {
  title \"Drill\"
  state mains : live, isolated
  lock front-lock : bars mains at isolated
  lock rear-lock  : bars mains at isolated
}
procedure look on drill {
  title \"Look\"
  crew fitter, helper
  step \"Lock it.\" by fitter {
    set mains to isolated
    lock front-lock, rear-lock
  }
  together {
    fitter { step \"Unlock.\" { unlock front-lock }
      step \"On.\" { set mains to live } }
    helper { step \"Unlock.\" { unlock rear-lock } }
  }
}
";
    assert_eq!(
        only_mend(source, "LN513").as_deref(),
        Some("move the step in line 16 behind the block in line 14")
    );
}

/// What has no mend of its own is left out where the mend of another finding ends it.
#[test]
fn an_effect_is_left_out_though_it_comes_first() {
    let source = "model drill {
  title \"Drill\"
  state mains : live, isolated
  lock key-lock : bars mains at isolated
}
procedure look on drill {
  title \"Look\"
  step \"Lock it.\" {
    set mains to isolated
    lock key-lock
  }
  at the end set mains to live
}
";
    assert_eq!(only_mend(source, "LN605").as_deref(), Some("write `unlock key-lock` at the end"));
}

/// Of acts that are no steps each lane becomes one: moved out of it, the act would leave it empty.
#[test]
fn a_race_of_bare_acts_is_done_one_after_the_other() {
    let source = "tool bar { special, number \"B\", fits lever }
model press {
  title \"Press\"
  part  lever
}
procedure lever-it on press {
  title \"Lever it\"
  crew fitter, mate
  together {
    fitter { fit bar }
    mate { remove bar }
  }
}
";
    let words = "do one after the other what the block in line 9 has side by side: as they are written, they can be done";
    assert_eq!(only_mend(source, "LN601").as_deref(), Some(words));
}
