//! The machine: how it is taken over, given back, and what is kept of its parts.

use super::{codes, graph, reports, rows};
use locknut_graph::{Applies, Because, Node, VariableKind};

const PRESS: &str = r#"
model press { title "Press"
  series A, B, C
  serial number
  state drive : off, running
  part head
  part valve : behind head
  part setting : in valve, sealed because "it is set on the bench" else renew valve
  part ring : behind head, single use
  bolts head-bolts : 6 of M10 class 10.9 oiled, fastens head, tightened to 40 ± 4 N·m, then turned 45°
}
consumable thread-oil { oils }
consumable soap { cleans }
instrument wrench { applies torque 10 .. 100 N·m, error 4 % of reading }
"#;

fn with_press(heads: &str, items: &str) -> String {
    format!(
        "{PRESS}\nprocedure p on press {{\n title \"P\"\n{heads}\n{items}\n}}\n
         subtask keep on press {{ apply thread-oil to head-bolts\n apply soap to head\n tighten head-bolts using wrench }}\n"
    )
}

const OPEN: &str = "remove head-bolts, head\n";
const SHUT: &str =
    "fit head, head-bolts\napply thread-oil to head-bolts\ntighten head-bolts using wrench\n";

#[test]
fn everything_is_owed_back_as_it_normally_stands_or_as_the_author_says() {
    let text =
        with_press("leaves drive is running because \"It is warming up.\"", "set drive to running");
    let graph = graph(&text, "p");
    let owed = |name: &str| {
        let owed = graph.restore.iter().find(|one| graph.variable(one.variable).words.name == name);
        let owed = owed.expect("owed");
        (owed.values.clone(), owed.because.as_ref().map(locknut_graph::Prose::written))
    };
    assert_eq!(owed("drive"), (vec![1], Some("It is warming up.".to_owned())));
    assert_eq!(owed("head-bolts"), (vec![0], None));
    assert_eq!(graph.restore.len(), 6, "one state and five things");
}

#[test]
fn what_is_left_otherwise_wants_a_reason() {
    assert_eq!(codes(&with_press("leaves drive is running", "set drive to running")), ["LN111"]);
    assert_eq!(
        codes(&with_press("leaves drive is not off because \"x\"", "confirm \"a\"")),
        ["LN425"]
    );
}

#[test]
fn a_job_may_start_from_otherwise_than_normal() {
    let text = with_press(
        "starts with drive is running for 5 min\nstarts with head is proved in-place",
        "set drive to off",
    );
    let graph = graph(&text, "p");
    assert_eq!(
        graph.starts.iter().map(|(_, values)| values.clone()).collect::<Vec<_>>(),
        [vec![1], vec![0]]
    );
    assert_eq!(graph.starts_held.len(), 1);
    assert_eq!(graph.starts_proved.len(), 1);
}

#[test]
fn a_machine_is_split_only_by_what_some_line_asks_for() {
    let graph = graph(
        &with_press(
            "for series A or B\nfor serial from 100\nfor serial to 900",
            "when serial from 500 { confirm \"a\" }",
        ),
        "p",
    );
    let applies =
        [Applies::Series(vec!["A".into(), "B".into()]), Applies::Serial(Some(100), Some(900))];
    assert_eq!(graph.heading.applies, applies);
    let serial = graph.variables.iter().find_map(|variable| {
        let VariableKind::Serial { stretches } = &variable.kind else { return None };
        Some(stretches.clone())
    });
    let stretches =
        [(None, Some(99)), (Some(100), Some(499)), (Some(500), Some(900)), (Some(901), None)];
    assert_eq!(serial.as_deref(), Some(stretches.as_slice()));
    let starts: Vec<&[u8]> = graph.starts.iter().map(|(_, values)| values.as_slice()).collect();
    assert_eq!(starts, [&[0, 1][..], &[1, 2]]);
    let plain = super::graph(&with_press("", "confirm \"a\""), "p");
    assert!(plain.starts.is_empty() && plain.heading.applies.is_empty());
}

#[test]
fn a_called_subtask_asks_that_it_is_for_this_machine() {
    let text = with_press("", "do fresh")
        + "subtask fresh on press { for series A or B\n starts with drive is off and head is in-place\n confirm \"a\" }";
    let rows = rows(&text);
    assert!(rows.contains("enter fresh [series A or B; drive is off; head is in-place]"), "{rows}");
    let graph = graph(&text, "p");
    assert!(graph.variables.iter().any(|variable| variable.kind == VariableKind::Series));
}

#[test]
fn what_is_declared_oiled_is_oiled_between_taking_out_and_tightening() {
    let text = with_press("", &format!("{OPEN}{SHUT}"));
    let rows = rows(&text);
    assert!(rows.contains("{head-bolts=out head-bolts-threads=dry}"), "{rows}");
    assert!(rows.contains("bolts-fit count=6 thing=head-bolts {head-bolts=slack}"), "{rows}");
    assert!(
        rows.contains("act-apply thing=head-bolts what=thread-oil {head-bolts-threads=oiled}"),
        "{rows}"
    );
    let graph = graph(&text, "p");
    let tighten = graph.flow.node_weights().filter_map(Node::act).last().expect("an act");
    assert!(tighten.assertions.iter().any(|one| matches!(one.because, Because::Oiled { .. })));
    // What was never taken out is still oiled from when it was made.
    let slackened =
        super::rows(&with_press("", "slacken head-bolts\ntighten head-bolts using wrench"));
    assert!(!slackened.contains("=dry"), "{slackened}");
    // Something else than oil does not oil.
    let soap = super::rows(&with_press("", "apply soap to head-bolts"));
    assert!(!soap.contains('{'), "{soap}");
}

#[test]
fn figures_come_in_stages() {
    let rows = rows(&with_press("", &format!("{OPEN}{SHUT}")));
    assert!(
        rows.contains("stages=[stage-torque torque=(40 ± 4 N·m); stage-angle angle=(45°)]"),
        "{rows}"
    );
}

#[test]
fn a_figure_that_differs_wants_a_reason() {
    let tighten = |with: &str| {
        with_press("", &format!("slacken head-bolts\ntighten head-bolts {with} using wrench"))
    };
    assert!(reports(&tighten("to 40 ± 4 N·m then turned 45°")).is_empty());
    assert_eq!(codes(&tighten("to 50 ± 4 N·m then turned 45°")), ["LN651"]);
    assert_eq!(codes(&tighten("to 40 ± 4 N·m")), ["LN651"]);
    assert!(reports(&tighten("to 50 ± 4 N·m because \"Letter 12\"")).is_empty());
    assert_eq!(codes(&tighten("to 120 ± 4 N·m because \"Letter 12\"")), ["LN303"]);
}

#[test]
fn the_reader_is_told_once_on_each_way_to_keep_off_a_sealed_part() {
    let text = with_press(
        "",
        &format!(
            "{OPEN}when series A {{ remove valve\n fit valve }} otherwise {{ remove valve\n fit valve }}\n{SHUT}"
        ),
    );
    let graph = graph(&text, "p");
    let cautions: Vec<usize> =
        graph.flow.node_weights().filter_map(Node::act).map(|act| act.cautions.len()).collect();
    assert_eq!(cautions, [0, 0, 1, 0, 1, 0, 0, 0, 0, 0]);
}

#[test]
fn new_parts_and_consumables_are_listed_with_what_only_some_ways_need() {
    let text = with_press(
        "",
        &format!("{OPEN}remove ring\nrenew ring\n{SHUT}when series A {{ apply soap to head }}"),
    );
    let graph = graph(&text, "p");
    let listed: Vec<(&str, bool, bool)> = graph
        .materials
        .iter()
        .map(|material| (material.words.name.as_str(), material.new_part, material.maybe))
        .collect();
    assert_eq!(
        listed,
        [("ring", true, false), ("thread-oil", false, false), ("soap", false, true)]
    );
}

#[test]
fn a_subtask_by_itself_starts_from_what_it_says_and_owes_what_it_found() {
    let text = with_press("", "confirm \"a\"")
        + "subtask tidy on press { starts with drive is running\n leaves drive is off\n set drive to off by mate }";
    let graph = graph(&text, "tidy");
    assert!(graph.heading.subtask);
    assert_eq!(graph.starts.len(), 1);
    assert!(graph.restore.is_empty(), "restoring is owed once, by the procedure");
    let roles: Vec<&str> = graph.heading.crew.iter().map(|role| role.name.as_str()).collect();
    assert_eq!(roles, ["mate"], "its crew is whoever its steps name");
}

#[test]
fn the_title_block_is_said_once_and_in_days_of_the_calendar() {
    assert_eq!(codes(&with_press("revision A of 2026-02-30", "confirm \"a\"")), ["LN430"]);
    assert_eq!(codes(&with_press("title \"Again\"", "confirm \"a\"")), ["LN430"]);
    assert_eq!(codes(&with_press("replaces A", "confirm \"a\"")), ["LN111"]);
    assert_eq!(
        codes(&with_press("for serial from 9\nfor serial to 5", "confirm \"a\"")),
        ["LN431"]
    );
    assert_eq!(codes(&with_press("for drive is off", "confirm \"a\"")), ["LN425"]);
}
