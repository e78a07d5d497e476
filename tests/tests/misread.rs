//! What a fitter could take for something else, on the sheet and in the record.

use locknut_graph::Way;
use locknut_job::{Answer, Job};
use locknut_library::{Checked, compose};
use locknut_tests::mended::checked;

/// The sheet of the one procedure; nothing where it has none.
fn sheet_of(checked: &Checked) -> String {
    let sheet = |one| locknut_sheet::text(&compose(checked, one, "en", None).sheet);
    checked.procedures.first().map(sheet).unwrap_or_default().replace('\u{a0}', " ")
}

const CART: &str = r#"model cart {
  title "Cart"
  part wheel : at left, right
  never wheel at left is removed and wheel at right is removed because "the cart tips over"
}
procedure oil on cart {
  title "Oil"
  any order {
    at each side of wheel {
      step "Off at the {side}." { remove wheel at side }
      step "On at the {side}." { fit wheel at side }
    }
    step "Wipe the bed." { confirm "The bed is clean." }
  }
}
"#;

#[test]
fn of_several_steps_that_are_one_piece_the_sheet_says_so() {
    let checked = checked(CART);
    assert!(checked.reports.is_empty(), "{:?}", checked.reports);
    let said = sheet_of(&checked);
    // Each wheel is a piece; the single step is none.
    assert_eq!(said.matches("Together, as one:").count(), 2, "{said}");
    let last = said.rfind("Together, as one:").expect("a piece");
    let [second, alone] =
        ["Wheel at right", "Wipe the bed."].map(|line| said.find(line).expect("a line"));
    assert!(last < second && second < alone, "{said}");
}

const PRESS: &str = r#"model press {
  title "Press"
  part lid
  part plate
}
procedure look on press {
  title "Look"
  crew fitter, lead
  step hang "Open it." by fitter {
    remove lid
    fit lid
  }
  step turn "Turn the plate." by fitter {
    remove plate
    fit plate
  }
  sign "Both sit." by lead independent of hang, turn
}
"#;

#[test]
fn whoever_signs_is_told_every_step_that_must_not_be_their_own() {
    let checked = checked(PRESS);
    assert!(checked.reports.is_empty(), "{:?}", checked.reports);
    let said = sheet_of(&checked);
    assert!(said.contains("who did not do any of the steps 1 and 2"), "{said}");
}

const FOOT: &str = r#"model saw { title "Saw" }
instrument rule { measures length 0 .. 300 mm, resolution 0.5 mm, error 0.25 mm }
procedure look on saw {
  title "Look"
  measure height using rule, expect 0 .. 50 mm
  measure gap at left, right using rule, expect 0 .. 20 mm {
    accept at most 4 mm
    otherwise go on noting "The foot is loose: {gap}; it stood at {height}."
  }
}
"#;

#[test]
fn a_note_bears_the_readings_that_it_speaks_of() {
    let checked = checked(FOOT);
    let one = checked.procedures.first().expect("a procedure");
    let mut job = Job::new(&one.graph, &checked.world.units, "source");
    let typed = |all: &[&str]| Answer::Typed(all.iter().map(|one| (*one).to_owned()).collect());
    job.answer(&typed(&["12.5"]), "now").expect("the height");
    job.answer(&typed(&["2.0", "6.5"]), "now").expect("the gap");
    let record = job.finish();
    let noted: Vec<&str> = record.entries.iter().filter_map(|one| one.noting.as_deref()).collect();
    assert_eq!(noted, ["The foot is loose: left 2.0 mm, right 6.5 mm; it stood at 12.5 mm."]);
}

#[test]
fn whoever_tightens_a_joint_that_shares_a_load_is_told_to_do_it_evenly() {
    let hub = |carries: &str| {
        let source = format!(
            r#"model hub {{
  title "Hub"
  part cap
  bolts cap-bolts : 6 of M8 class 8.8 dry, fastens cap, on pitch circle 90 mm, {carries}tightened to 22 ± 2 N·m
}}
instrument wrench {{ applies torque 5 .. 60 N·m, error 4 % of reading }}
procedure look on hub {{
  title "Look"
  step "Nip them." {{
    slacken cap-bolts
    tighten cap-bolts using wrench
  }}
}}
"#
        );
        let checked = checked(&source);
        assert!(!checked.has_errors(), "{:?}", checked.reports);
        sheet_of(&checked).matches("Tighten them evenly").count()
    };
    // What each bears is said of each; what all bear together is reckoned as shared.
    assert_eq!([hub(""), hub("carries 6 kN, "), hub("carries 20 kN shared evenly, ")], [0, 0, 1]);
}

const MILL: &str = r#"model mill {
  title "Mill"
  part hood
  safe to leave when hood is removed or hood is in-place
}
instrument rule { measures length 0 .. 300 mm, resolution 0.5 mm, error 0.25 mm }
subtask true-up on mill {
  title "True it"
  starts with hood is removed
  step "Knock it." {
    measure lean using rule, expect 0 .. 20 mm {
      at most 2 mm -> go on
      over 2 mm -> go on noting "It leans."
    }
  }
}
procedure look on mill {
  title "Look"
  step "Off." { remove hood }
  step gap "Gap." {
    measure gap using rule, expect 0 .. 20 mm {
      accept at most 5 mm
      otherwise { do true-up } then repeat gap up to 2 times, failing that refer to "The millwright"
    }
  }
  step "On." { fit hood }
}
"#;

#[test]
fn how_the_machine_then_stands_is_said_where_the_job_ends_and_not_where_it_goes_on() {
    let checked = checked(MILL);
    assert!(checked.reports.is_empty(), "{:?}", checked.reports);
    let said = sheet_of(&checked);
    let stands: Vec<&str> =
        said.lines().filter(|line| line.contains("The machine then stands")).collect();
    assert_eq!(
        stands.iter().map(|line| line.trim()).collect::<Vec<_>>(),
        ["The machine then stands: hood: off."],
        "{said}"
    );
    let [inside, on] =
        ["It leans.", "The machine then stands"].map(|line| said.find(line).expect(line));
    assert!(inside < on, "it stands at the way that refers, behind the subtask: {said}");
}

const DENIED: &str = r#"instrument tester { measures voltage 0 .. 500 V, resolution 1 V, error 0.5 V }
model oven {
  title "Oven"
  state mains : live, isolated
  safe to leave when mains is isolated or mains is live
}
procedure look on oven {
  title "Look"
  step "Off." { set mains to isolated }
  step "Prove it." {
    measure volts using tester, proves mains is isolated {
      accept at most 12 V
      otherwise stop "Call the electrician."
    }
  }
  step "Prove it once more." {
    measure again using tester, proves mains is isolated {
      accept at most 12 V
      otherwise { set mains to live } then stop "Call the electrician."
    }
  }
  step "On." { set mains to live }
}
"#;

#[test]
fn where_a_reading_denies_a_state_the_sheet_does_not_say_it_as_if_it_were_so() {
    let checked = checked(DENIED);
    assert!(!checked.has_errors(), "{:?}", checked.reports);
    let said = sheet_of(&checked);
    let denied = "The machine then stands: mains: isolated (but the reading denies it).";
    assert_eq!(said.matches(denied).count(), 1, "{said}");
    // Set anew, it stands as it was set.
    assert_eq!(said.matches("The machine then stands as it normally does.").count(), 1, "{said}");
}

const WINCH: &str = r#"instrument rule { measures length 0 .. 50 mm, resolution 1 mm, error 0.5 mm }
assembly brake { part lining }
model winch {
  title "Winch"
  made of brake at left, right
}
subtask look-in on brake {
  title "Look at the lining"
  step "Off and on." {
    remove lining
    measure wear using rule, expect 0 .. 20 mm
    fit lining
  }
}
procedure look on winch {
  title "Look"
  do look-in at right
}
"#;

#[test]
fn at_which_point_a_subtask_is_done_is_said_in_its_head_its_lines_and_its_fields() {
    let checked = checked(WINCH);
    assert!(!checked.has_errors(), "{:?}", checked.reports);
    let said = sheet_of(&checked);
    for line in ["Look at the lining (right)", "Take off the lining at right.", "right: ____"] {
        assert!(said.contains(line), "{line}: {said}");
    }
    assert!(!said.contains("left"), "{said}");
}

const HOIST: &str = r#"instrument rule { measures length 0 .. 50 mm, resolution 0.5 mm, error 0.25 mm }
consumable shims { sizes 1.0 mm "A", 2.0 mm "B", 3.0 mm "C" }
assembly brake {
  state band : tight, loose
  safe to leave when band is tight
}
model hoist {
  title "Hoist"
  made of brake at left, right
  state hook : down, up
  safe to leave when hook is down
}
subtask set-gap on brake {
  title "Set the gap"
  step "Read it." {
    set band to loose
    measure gap using rule, expect 2 .. 4 mm
    set band to tight
  }
  step "Shim it." {
    choose shim from shims so that play is 0 .. 1.5 mm, where play = gap - shim, prefer largest
    check rest = gap - shim {
      accept at most 1.2 mm
      otherwise go on noting "Much: {rest}."
    }
    note "The gap was {gap}, the shim {shim}."
  }
}
procedure look on hoist {
  title "Look"
  step "Up." { set hook to up }
  do set-gap at left, right
  at each side of brake {
    step "Again." {
      measure wear at side using rule, expect 0 .. 20 mm
      check twice = wear + wear {
        accept at most 9 mm
        otherwise go on noting "Worn: {twice}."
      }
    }
  }
  step "Down." { set hook to down }
}
"#;

#[test]
fn a_reading_of_one_of_several_places_is_said_with_its_place_wherever_it_is_named() {
    let checked = checked(HOIST);
    assert!(!checked.has_errors(), "{:?}", checked.reports);
    let said = sheet_of(&checked);
    for side in ["left", "right"] {
        for line in [
            "Choose the shim (SIDE).",
            "Gap (SIDE) | Shim (SIDE)",
            "shim (SIDE): ____",
            "rest (SIDE) = gap (SIDE) − shim (SIDE)",
            "rest (SIDE): ____",
            "“Much: rest (SIDE).”",
            "The gap was gap (SIDE), the shim shim (SIDE).",
            "twice (SIDE) = wear (SIDE) + wear (SIDE)",
            "“Worn: twice (SIDE).”",
        ] {
            let line = line.replace("SIDE", side);
            assert!(said.contains(&line), "{line}: {said}");
        }
    }
    // Its line says the place once.
    assert!(said.contains("Measure the gap with the rule at left."), "{said}");
}

#[test]
fn that_the_machine_is_not_left_is_said_once_where_two_steps_end_together() {
    let checked = checked(HOIST);
    let said = sheet_of(&checked);
    let lines: Vec<&str> = said.lines().map(str::trim).filter(|line| !line.is_empty()).collect();
    let twice = lines
        .windows(2)
        .find(|pair| matches!(pair, [one, next] if one == next && one.starts_with("||| ")));
    assert_eq!(twice, None, "{said}");
    // Up, four steps of the subtask, two more behind it.
    assert_eq!(lines.iter().filter(|line| line.starts_with("||| ")).count(), 7, "{said}");
}

const SCALE: &str = r#"instrument scale { measures force 0 .. 500 N, resolution 1 N, error 0.1 N }
model hoist {
  title "Hoist"
}
procedure weigh on hoist {
  title "Weigh"
  measure pull using scale, expect 100 .. 400 N
  check seventh = pull / 7 {
    accept at most 45 N
    otherwise stop "Too heavy."
  }
}
procedure weigh-well on hoist {
  title "Weigh well"
  measure pull using scale, expect 100 .. 400 N
  measure other using scale, expect 100 .. 400 N
  check eighth = pull / 8 {
    accept at most 45 N
    otherwise stop "Too heavy."
  }
  check both = pull + other {
    accept at most 600 N
    otherwise stop "Too heavy."
  }
}
procedure compare on hoist {
  title "Compare"
  measure pull using scale, expect 100 .. 400 N
  measure other using scale, expect 100 .. 400 N
  check ratio = pull / other
  check rest = ratio - 1 {
    accept at most 0.5
    otherwise stop "Too far."
  }
  when ratio over 1.333 { confirm "It is far." }
}
"#;

#[test]
fn what_has_more_digits_than_its_field_is_compared_before_it_is_rounded() {
    let checked = checked(SCALE);
    assert!(!checked.has_errors(), "{:?}", checked.reports);
    let told = |name: &str| {
        let one = checked.procedure(name).expect("compiled");
        let said = locknut_sheet::text(&compose(&checked, one, "en", None).sheet);
        said.matches("Compare the figure before you round it.").count()
    };
    // An eighth of a newton and a sum are shown with all of their digits; a ratio is asked for by a `when`.
    assert_eq!((told("weigh"), told("weigh-well"), told("compare")), (1, 0, 2));
}

#[test]
fn a_figure_in_the_record_stands_where_it_was_judged() {
    let checked = checked(SCALE);
    let one = checked.procedure("weigh").expect("compiled");
    let shown = |pull: &str| {
        let mut job = Job::new(&one.graph, &checked.world.units, "");
        let read = Answer::Typed(vec![pull.to_owned()]);
        job.answer(&read, "2026-11-29T08:00:00Z").expect("read");
        let told = job.answer(&Answer::Done, "2026-11-29T08:01:00Z").expect("worked out");
        (told.result.unwrap_or_default(), told.way)
    };
    assert_eq!(shown("315"), ("45.0".to_owned(), Way::Accepted));
    assert_eq!(shown("316"), ("45.1".to_owned(), Way::Otherwise));
    assert_eq!(shown("314"), ("44.9".to_owned(), Way::Accepted));
}
