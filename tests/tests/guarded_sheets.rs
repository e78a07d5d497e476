//! Guarded limits and arms as a fitter reads them.

use locknut_graph::Verdict;
use locknut_library::{check_in_memory, compose};
use locknut_quantity::Exact;
use locknut_tests::run::message_of;
use std::collections::BTreeMap;

/// What a fitter reads: no figure belongs to two arms, and nothing is refused that the job waits for.
#[test]
fn the_sheet_gives_each_figure_to_one_arm_and_refuses_what_is_surely_outside() {
    let source = r#"
instrument coarse { measures length 0 .. 100 mm, resolution 0.1 mm, error 4 % of reading }
instrument fine   { measures length 0 .. 100 mm, resolution 0.1 mm, error 0.2 mm }
model hub { title "Hub" }
procedure sort on hub {
  title "Sort"
  measure play using coarse, expect 1 .. 100 mm {
    over 50 mm guarded        -> go on
    over 20 to 50 mm guarded  -> go on noting "Again."
    at most 20 mm             -> stop "Lay it aside."
  }
  measure ring using fine, expect 5 .. 50 mm { accept 10 .. 40 mm
    otherwise stop "Lay it aside." }
  measure pin using fine, expect 1 .. 90 mm { accept at least 1.2 * ring guarded
    otherwise stop "Lay it aside." }
}
"#;
    let library = BTreeMap::from([
        ("library.yaml".to_owned(), "publisher: Kestmoor\nlanguage: en\n".to_owned()),
        ("hub.lkn".to_owned(), source.to_owned()),
    ]);
    let checked = check_in_memory(&library);
    let message = message_of(&checked.reports, &checked.sources);
    let one = checked.procedure("sort").unwrap_or_else(|| panic!("{message}"));
    let said = locknut_sheet::text(&compose(&checked, one, "en", None).sheet);
    let said = said.replace('\u{a0}', " ");
    // 4 % of the reading and half a digit below 52.2 mm is 50.06 mm, below 52.1 mm it is 49.97 mm; below 20.9 mm 20.01 mm.
    assert!(said.contains("At least 52.2 mm"), "{said}");
    assert!(said.contains("20.9 to under 52.2 mm"), "{said}");
    // The errors of both: 0.2 mm and 1.2 times 0.2 mm, up to the next digit.
    assert!(said.contains("Under 1.2 × ring, by more than 0.5 mm"), "{said}");
}

/// The limit and the greatest error: 10.00 mm and 0.02 mm. Between them nobody is sent for a better instrument.
#[test]
fn what_is_not_surely_inside_is_refused_where_undecided_counts_as_outside() {
    let source = r#"
instrument gauge-block { measures length 0 .. 25 mm, resolution 0.01 mm, error 0.02 mm }
model press { title "Toggle press" }
procedure look on press {
  title "Look"
  measure gap using gauge-block, expect 5.00 .. 15.00 mm {
    accept at least 10.00 mm guarded, undecided counts as outside
    otherwise stop "Fit a new link."
  }
}
"#;
    let library = BTreeMap::from([
        ("library.yaml".to_owned(), "publisher: Kestmoor\nlanguage: en\n".to_owned()),
        ("press.lkn".to_owned(), source.to_owned()),
    ]);
    let checked = check_in_memory(&library);
    let message = message_of(&checked.reports, &checked.sources);
    let one = checked.procedure("look").unwrap_or_else(|| panic!("{message}"));
    let said = locknut_sheet::text(&compose(&checked, one, "en", None).sheet);
    let said = said.replace('\u{a0}', " ");
    assert!(said.contains("at least 10.02 mm"), "{said}");
    assert!(said.contains("-> Under 10.02 mm: Stop."), "{said}");
    assert!(said.contains("What is not surely inside counts as outside."), "{said}");
    assert!(!said.contains("better instrument"), "{said}");
}

/// A mean may lie between two figures: 11.59 mm less 0.255 mm is 11.335 mm, and under 11.33 mm is what is printed and judged.
#[test]
fn an_open_end_of_what_is_worked_out_ends_at_the_figure_that_is_printed() {
    let source = r#"
instrument gauge { measures length 0 .. 60 mm, resolution 0.1 mm, error 0.255 mm }
model press { title "Toggle press" }
procedure look on press {
  title "Look"
  measure bore at front, middle, rear using gauge, expect 0 .. 60 mm
  check value = mean(bore) {
    accept over 4.50 to 11.59 mm guarded
    otherwise stop "Lay it aside."
  }
  measure seat at front, middle, rear using gauge, expect 0 .. 60 mm
  check other = mean(seat) + 1 mm {
    accept under 12.59 mm guarded
    otherwise stop "Lay it aside."
  }
}
"#;
    let checked = check_in_memory(&BTreeMap::from([("press.lkn".to_owned(), source.to_owned())]));
    let message = message_of(&checked.reports, &checked.sources);
    let one = checked.procedure("look").unwrap_or_else(|| panic!("{message}"));
    let said = locknut_sheet::text(&compose(&checked, one, "en", None).sheet);
    let said = said.replace('\u{a0}', " ");
    assert!(said.contains("over 4.76 up to 11.33 mm"), "{said}");
    assert!(said.contains("under 12.33 mm"), "{said}");
    let millimetre = Exact::new(1.into(), 1000.into());
    let ends: Vec<Exact> = one
        .graph
        .acts()
        .filter_map(|act| match act.kind.verdict() {
            Some(Verdict::Accept { limit, .. }) => Some(limit.accepted()),
            _ => None,
        })
        .flat_map(|range| [range.lower, range.upper])
        .flatten()
        .map(|end| end.value / &millimetre)
        .collect();
    let hundredths = |number: i64| Exact::new(number.into(), 100.into());
    assert_eq!(ends, [hundredths(476), hundredths(1133), hundredths(1233)]);
}
