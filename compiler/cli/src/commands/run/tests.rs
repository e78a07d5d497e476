//! Jobs from a file of answers, and what the terminal says on the way.

use super::{Answers, Words, said, through};
use locknut_job::{Ask, Job, Record};
use locknut_library::{check_in_memory, compose};

const LIBRARY: &str = "
    instrument fine { measures length 0 .. 25 mm, resolution 0.01 mm, error 0.02 mm }
    instrument coarse { measures length 0 .. 25 mm, resolution 0.1 mm, error 0.1 mm }
    model hub { title \"Hub\" }
    procedure look on hub {
      title \"Look\"
      measure bore using fine, expect 0 .. 20 mm {
        accept 9.5 .. 10.5 mm guarded
        or using coarse accept 9.5 .. 10.5 mm guarded
        otherwise stop \"Lay it aside.\"
      }
    }";

/// What a file of answers brings about: the ways that were taken, or why it does not answer the job.
fn ways(answers: &str) -> Result<Vec<String>, String> {
    let checked = check_in_memory(&[("hub.lkn".to_owned(), LIBRARY.to_owned())].into());
    let one = checked.procedure("look").expect("it compiles");
    let sheet = compose(&checked, one, "en", None).sheet;
    let (job, words) =
        (Job::new(&one.graph, &checked.world.units, ""), Words::of(&sheet, &one.graph));
    let record = through(job, Answers::read(answers.as_bytes())?, &words)?;
    Ok(record.entries.into_iter().map(|entry| entry.way).collect())
}

#[test]
fn what_is_undecided_goes_on_with_the_next_entry() {
    let way = |answers: &str| ways(&format!("readings: {{ {answers} }}"));
    let back = way("instrument-for-bore: [coarse, fine], bore: [9.5, 9.7]").expect("answered");
    assert!(back.ends_with(&["accepted".to_owned()]), "{back:?}");
    assert_eq!(back.iter().filter(|way| *way == "undecided").count(), 1, "{back:?}");
    let again = way("instrument-for-bore: [fine], bore: [9.51, 9.7]").expect("answered");
    assert!(again.ends_with(&["undecided".to_owned(), "accepted".to_owned()]), "{again:?}");
    let waits = way("instrument-for-bore: [fine], bore: [9.51]").expect_err("undecided");
    assert!(waits.contains("this is undecided"), "{waits}");
}

#[test]
fn whoever_works_in_the_terminal_is_told_ahead_that_times_go_by_the_waits() {
    const TIMED: &str = "
        model press {
          title \"Press\"
          state mains : live, isolated
        }
        procedure look on press {
          title \"Look\"
          step \"Off.\" { set mains to isolated }
          when mains is isolated for 45 min { step \"Feel.\" { confirm \"cold\" } }
          when mains is isolated for 2 h { step \"Wipe.\" { confirm \"dry\" } }
          step \"On.\" { set mains to live }
        }";
    let checked = check_in_memory(&[("press.lkn".to_owned(), TIMED.to_owned())].into());
    let one = checked.procedure("look").expect("it compiles");
    let words = Words::of(&compose(&checked, one, "en", None).sheet, &one.graph);
    // Once, however many lines ask.
    let [said] = words.ahead.as_slice() else { panic!("{:?}", words.ahead) };
    assert!(said.contains("this program by the waits alone"), "{said}");
}

const WINCH: &str = r#"
instrument rule { measures length 0 .. 50 mm, resolution 0.5 mm, error 0.25 mm }
consumable shims { sizes 1.0 mm "A", 2.0 mm "B", 3.0 mm "C" }
assembly brake {
  state band : tight, loose
  safe to leave when band is tight
}
model winch {
  title "Winch"
  made of brake at left, right
  series S, T
}
subtask set-gap on brake {
  title "Set the gap"
  step "Open it." {
    set band to loose
    measure gap using rule, expect 0 .. 20 mm {
      accept 2.0 .. 4.0 mm
      otherwise { set band to tight } then refer to "The maker, with {gap}"
    }
  }
  step "Shim it." {
    choose shim from shims so that play is 0 .. 1.5 mm, where play = gap - shim, prefer largest
    check rest = gap - shim {
      accept at most 1.2 mm
      otherwise go on noting "Much play: {rest} of {gap}."
    }
    set band to tight
  }
}
procedure look on winch {
  title "Look"
  crew fitter, lead
  step "Ask." by fitter {
    observe slips "Does it slip?" {
      yes -> do set-gap at left, right then go on
      no -> go on
    }
  }
  any order {
    step "Wipe." by fitter { wait 1 min }
    step "Look." by fitter { confirm "clean" }
  }
  sign "It holds." by lead
}"#;

/// A job on the winch, as far as the answers of the file go.
fn winch(
    language: &str,
    answers: &str,
    mut at: impl FnMut(&Ask, &Words),
) -> Result<Record, String> {
    let checked = check_in_memory(&[("winch.lkn".to_owned(), WINCH.to_owned())].into());
    assert!(!checked.has_errors(), "{:?}", checked.reports);
    let one = checked.procedure("look").expect("it compiles");
    let sheet = compose(&checked, one, language, None).sheet;
    let words = Words::of(&sheet, &one.graph);
    let mut job = Job::new(&one.graph, &checked.world.units, "");
    let mut answers = Answers::read(answers.as_bytes())?;
    loop {
        let ask = job.ask();
        at(&ask, &words);
        if let Ask::Ended { .. } = ask {
            answers.all_used()?;
            return Ok(job.finish());
        }
        let answer = answers.to(&ask, &words)?;
        job.answer(&answer, "now").map_err(|why| said::refused(&why, &words))?;
    }
}

const BOTH: &str =
    "{ series: S, readings: { slips: [\"yes\"], gap: [2.5, 3.5], signature: [\"A. Lead\"] } }";

#[test]
fn a_subtask_at_two_points_of_an_outcome_is_asked_for_and_kept_apart_in_the_record() {
    let record = winch("en", BOTH, |_, _| {}).expect("answered");
    let told = |name: &str| {
        let all = record.entries.iter().filter(|entry| entry.name == name);
        let all = all.flat_map(|entry| &entry.values);
        all.map(|value| format!("{} {}", value.point, value.text)).collect::<Vec<_>>()
    };
    assert_eq!(told("gap"), ["left 2.5", "right 3.5"]);
    assert_eq!(told("shim"), ["left 2.0 mm", "right 3.0 mm"]);
    assert_eq!(told("rest"), ["left 0.5", "right 0.5"]);
    assert!(record.end.is_some_and(|end| end.how == "done" && end.stands.is_empty()));
}

#[test]
fn where_a_point_is_referred_the_record_tells_its_own_reading() {
    let answers = "{ series: S, readings: { slips: [\"yes\"], gap: [2.5, 9] } }";
    let end = winch("en", answers, |_, _| {}).expect("answered").end.expect("an end");
    assert_eq!((end.how.as_str(), end.text.as_str()), ("refer", "The maker, with right 9 mm"));
    assert!(end.stands.is_empty(), "{:?}", end.stands);
}

#[test]
fn all_that_the_terminal_asks_is_in_the_language_of_the_sheet() {
    let prompts = |language: &str| {
        let mut all = Vec::new();
        winch(language, BOTH, |ask, words| {
            // A point by its name alone is the library's own word.
            all.push(said::prompt(ask, words));
        })
        .expect("answered");
        all.retain(|prompt| !prompt.is_empty());
        all
    };
    let (english, german) = (prompts("en"), prompts("de"));
    assert_eq!(english.len(), german.len());
    for (one, other) in english.iter().zip(&german) {
        assert_ne!(one, other);
    }
    assert!(english.iter().any(|said| said.contains("[1] 2 Wipe.   [2] 3 Look.")), "{english:?}");
    let refused = |language: &str, gap: &str| {
        let answers = format!("{{ series: S, readings: {{ slips: [\"yes\"], gap: [{gap}] }} }}");
        winch(language, &answers, |_, _| {}).expect_err("refused")
    };
    for gap in ["much", "99", "30", "[1, 2]"] {
        assert_ne!(refused("en", gap), refused("de", gap));
    }
    assert_eq!(refused("de", "much"), "“much” ist keine Zahl.");
}

#[test]
fn what_was_worked_out_is_told_with_the_sign_and_the_unit_of_the_language() {
    let mut told = Vec::new();
    winch("de", BOTH, |ask, words| {
        if let Ask::Result { .. } = ask {
            told.push(said::result(ask, words, "0.5"));
            told.push(said::result(ask, words, "2.0 mm (B-1.5)"));
        }
    })
    .expect("answered");
    assert!(told.contains(&"= 0,5 mm".to_owned()), "{told:?}");
    assert!(told.contains(&"= 2,0 mm (B-1.5)".to_owned()), "{told:?}");
}

#[test]
fn whoever_ends_a_step_is_told_that_the_machine_is_not_left() {
    let (mut before, mut told) = (String::new(), Vec::new());
    winch("en", BOTH, |ask, words| {
        let here = words.number(ask).cloned().unwrap_or_default();
        if here != before {
            told.extend(words.leaves(&before, &here).into_iter().cloned());
            before = here;
        }
    })
    .expect("answered");
    let bar = |side| format!("Do not leave the machine here: band at {side}: loose.");
    assert_eq!(told, [bar("left"), bar("right")]);
}
