//! What `check --show proof` lists: nothing that holds only because somebody says so is left out.

use locknut_proof::{assumptions, obligations};
use locknut_tests::mended::checked;

const OVEN: &str = r#"instrument pyro { measures temperature 0 .. 400 °C, resolution 1 °C, error 3 °C }
instrument air { measures temperature -10 .. 40 °C, resolution 1 °C, error 1 °C }
instrument pull { measures force 0 .. 600 N, resolution 2 N, error 2 N }
instrument tester { measures voltage 0 .. 500 V, resolution 1 V, error 0.5 V, proved on "a lit lamp" before and after }
table chain-pull : temperature -> force {
  0 °C -> 300 ± 40 N
  20 °C -> 220 ± 40 N
  40 °C -> 190 ± 30 N
  between in proportion, per "Drawing K7"
}
model oven {
  title "Oven"
  state heat : on-line, off
  state water : running, shut
  safe to leave when heat is off
}
procedure look on oven {
  title "Look"
  crew baker, lead
  step off "Off." by baker { set heat to off }
  step dead "Prove it." by baker {
    measure volts using tester, expect 0 .. 400 V, proves heat is off {
      accept at most 12 V
      otherwise refer to "The electrician"
    }
  }
  step look "Look." by baker {
    observe drip "Does water run?", proves water is running {
      yes -> go on
      no -> refer to "The plumber"
    }
    measure wall using pyro, expect 10 .. 350 °C {
      at most 60 °C guarded -> go on
      over 60 °C -> go on noting "Gloves."
    }
    measure room using air, expect 0 .. 40 °C
    measure tension using pull, expect 50 .. 500 N {
      accept chain-pull(room) guarded, undecided counts as outside
      otherwise go on noting "Off."
    }
  }
  sign "It is well." by lead independent of off, look
  step "On." by baker { set heat to on-line }
}
"#;

#[test]
fn what_holds_by_somebodys_word_is_listed() {
    let checked = checked(OVEN);
    assert!(!checked.has_errors(), "{:?}", checked.reports);
    let graph = &checked.procedures.first().expect("a procedure").graph;
    let said: Vec<String> = assumptions(graph).into_iter().map(|one| one.what).collect();
    for wanted in [
        "the reading of volts tells how heat stands",
        "whether the machine is safe to leave, or to go back with, where volts denies how heat stands",
        "the reading of drip tells how water stands",
        "as far as a lit lamp shows it",
        "no reading of the pyro is further from the true value",
        "no reading of the pull is further from the true value",
        "no reading that the limit of tension goes by (room) is further from the true value",
        "whoever signs in one role is not the one who works in another",
    ] {
        assert_eq!(
            said.iter().filter(|one| one.contains(wanted)).count(),
            1,
            "{wanted}: {said:#?}"
        );
    }
}

/// A plain `check` says it, too, and of no state that a reading cannot deny or that leaves the machine safe.
#[test]
fn a_stop_that_only_a_denied_state_makes_safe_is_not_judged() {
    let open = |source: &str| -> Vec<String> {
        let checked = checked(source);
        assert!(!checked.has_errors(), "{:?}", checked.reports);
        checked.proved.iter().flat_map(|one| one.not_judged.clone()).collect()
    };
    let denied = "whether the machine is safe to leave where the job stops because volts denies how heat stands";
    let of_oven = open(OVEN);
    assert_eq!(of_oven.iter().filter(|one| *one == denied).count(), 1, "{of_oven:#?}");
    assert!(!of_oven.iter().any(|one| one.contains("drip")), "{of_oven:#?}");
    for source in [
        OVEN.replace(", proves heat is off", ""),
        OVEN.replace("heat is off\n", "water is running\n")
            .replace(", proves water is running", ""),
    ] {
        let open = open(&source);
        assert!(!open.iter().any(|one| one.contains("safe to leave")), "{open:#?}");
    }
}

#[test]
fn that_who_signs_did_not_do_it_is_an_obligation_with_its_places() {
    let checked = checked(OVEN);
    let graph = &checked.procedures.first().expect("a procedure").graph;
    let all = obligations(graph);
    let apart: Vec<_> = all.iter().filter(|one| one.code == "LN706").collect();
    let [one] = apart.as_slice() else { panic!("{apart:?}") };
    assert_eq!(one.what, "whoever signs as lead cannot have done step 1 or step 3");
    let steps: Vec<u16> =
        one.tested.iter().filter_map(|(_, step)| Some(step.as_ref()?.0)).collect();
    assert_eq!(steps, [0, 2]);
}

const PUMP: &str = r#"instrument wrench { applies torque 2 .. 60 N·m, error 4 % of reading }
consumable thread-oil { oils }
model pump {
  title "Pump"
  part lid
  bolts lid-bolts : 4 of M8 class 8.8 oiled, fastens lid, tightened to 18 ± 1 N·m
}
procedure again on pump {
  title "Again"
  slacken lid-bolts
  tighten lid-bolts using wrench
}
procedure oiled-again on pump {
  title "Oiled again"
  slacken lid-bolts
  apply thread-oil to lid-bolts
  tighten lid-bolts using wrench
}
procedure off-and-on on pump {
  title "Off and on"
  remove lid-bolts
  fit lid-bolts
  apply thread-oil to lid-bolts
  tighten lid-bolts using wrench
}
"#;

#[test]
fn that_threads_are_still_oiled_is_listed_where_nobody_oils_them() {
    let checked = checked(PUMP);
    assert!(checked.reports.is_empty(), "{:?}", checked.reports);
    let listed = |name: &str| {
        let graph = &checked.procedure(name).expect("compiled").graph;
        assumptions(graph).iter().any(|one| one.what.contains("are still oiled"))
    };
    assert_eq!(
        (listed("again"), listed("oiled-again"), listed("off-and-on")),
        (true, false, false)
    );
}
