//! What follows what.

use super::{assert_rows, codes, graph, only};
use locknut_graph::{Leads, Outline};

const KETTLE: &str = r#"
model kettle { title "Kettle"
  state plug : plugged-in, pulled
}
instrument rule { measures length 0 .. 300 mm, resolution 1 mm, error 0.5 mm }
"#;

fn with_kettle(items: &str) -> String {
    format!("{KETTLE}\nprocedure p on kettle {{\n title \"P\"\n{items}\n}}\n{USES_RULE}")
}

/// Keeps the rule in use, so that a test need not measure anything.
const USES_RULE: &str = "subtask keep-rule on kettle { measure anything using rule }\n";

#[test]
fn a_line_among_steps_is_a_step_of_its_own() {
    assert_rows(
        &with_kettle("set plug to pulled\nset plug to plugged-in"),
        "0 @1 act-set state=plug value=pulled {plug=pulled} next>1
         1 @2 act-set state=plug value=plugged-in {plug=plugged-in} next>2
         2 @ done",
    );
}

#[test]
fn a_step_in_words_alone_has_one_tick() {
    assert_rows(
        &with_kettle("step \"Wipe it.\"\nstep \"Dry it.\" { note \"With a cloth.\" }"),
        "0 @1 act-step next>1
         1 @2 act-step next>2
         2 @ done",
    );
}

#[test]
fn a_reading_that_is_not_accepted_goes_where_the_author_says() {
    assert_rows(
        &with_kettle(
            "measure gap using rule {\n accept at most 5 mm\n otherwise { set plug to pulled } then stop \"Keep out.\" }
             set plug to pulled\nset plug to plugged-in",
        ),
        "0 @1 act-measure instrument=rule reading=gap {take gap} accepted>3 otherwise>1
         1 @1 act-set state=plug value=pulled {plug=pulled} next>2
         2 @1 stop “Keep out.”
         3 @2 act-set state=plug value=pulled {plug=pulled} next>4
         4 @3 act-set state=plug value=plugged-in {plug=plugged-in} next>5
         5 @ done",
    );
}

#[test]
fn a_block_without_an_end_goes_on() {
    assert_rows(
        &with_kettle(
            "observe wet { no -> go on noting \"Dry.\"\n yes -> { confirm \"Wiped.\" } }\nset plug to plugged-in",
        ),
        "0 @1 act-observe reading=wet {take wet} arm0>2 “Dry.” arm1>1
         1 @1 act-confirm statement=“Wiped.” next>2
         2 @2 act-set state=plug value=plugged-in {plug=plugged-in} next>3
         3 @ done",
    );
}

#[test]
fn a_repeat_comes_back_behind_where_its_rounds_count_afresh() {
    assert_rows(
        &with_kettle(
            "measure before using rule
             step try \"Try.\" {
               measure gap using rule
               check twice = gap + gap {
                 accept at most 5 mm
                 otherwise repeat try up to 2 times, failing that refer to \"Me\"
               }
             }",
        ),
        "0 @1 act-measure instrument=rule reading=before {take before} next>1
         1 @2 pass {afresh 0} next>2
         2 @2 pass next>3
         3 @2 act-measure instrument=rule reading=gap {take gap} next>4
         4 @2 act-check reading=twice {take twice} accepted>7 otherwise>5
         5 @2 repeat up to 2 again {void gap,twice}>2 failing>6
         6 @2 refer “Me”
         7 @ done",
    );
}

#[test]
fn a_lone_reading_can_be_gone_back_to_by_its_name() {
    assert_rows(
        &with_kettle(
            "measure gap using rule {
               accept at most 5 mm
               otherwise { confirm \"Bent.\" } then repeat gap up to 3 times, failing that stop \"No.\"
             }",
        ),
        "0 @1 pass {afresh 0} next>1
         1 @1 pass next>2
         2 @1 act-measure instrument=rule reading=gap {take gap} accepted>6 otherwise>3
         3 @1 act-confirm statement=“Bent.” next>4
         4 @1 repeat up to 3 again {void gap}>1 failing>5
         5 @1 stop “No.”
         6 @ done",
    );
}

#[test]
fn freed_children_end_at_the_block_and_each_is_done_as_a_whole() {
    assert_rows(
        &with_kettle(
            "any order {
               step \"A.\" { confirm \"a\" }
               note \"In any order.\"
               { confirm \"b\"\n confirm \"c\" }
             }
             confirm \"d\"",
        ),
        "0 @ any-order 2 next>6 child0>1 child1>3
         1 @1 act-confirm statement=“a” next>2
         2 @ child-done 0
         3 @2 act-confirm statement=“b” next>4
         4 @3 act-confirm statement=“c” next>5
         5 @ child-done 0
         6 @4 act-confirm statement=“d” next>7
         7 @ done",
    );
}

#[test]
fn behind_a_freed_child_that_always_ends_nothing_is_reached() {
    let text = with_kettle(
        "any order { confirm \"a\"\n observe b { yes -> stop \"x\"\n no -> refer to \"y\" } }\nconfirm \"c\"",
    );
    assert_eq!(codes(&text), ["LN412"]);
}

#[test]
fn a_branch_joins_behind_itself() {
    assert_rows(
        &with_kettle(
            "when plug is pulled { confirm \"a\" } otherwise { stop-not \"\" }"
                .replace("stop-not \"\"", "confirm \"b\"")
                .as_str(),
        ),
        "0 @ when plug=pulled arm0>1 arm1>2
         1 @1 act-confirm statement=“a” next>3
         2 @2 act-confirm statement=“b” next>3
         3 @ done",
    );
}

#[test]
fn a_branch_without_otherwise_is_passed_by() {
    assert_rows(
        &with_kettle("when plug is pulled { set plug to plugged-in }"),
        "0 @ when plug=pulled arm0>1 arm1>2
         1 @1 act-set state=plug value=plugged-in {plug=plugged-in} next>2
         2 @ done",
    );
}

#[test]
fn at_the_end_is_done_before_every_done_and_never_after_a_stop() {
    assert_rows(
        &with_kettle(
            "observe early \"Early?\" { yes -> done\n no -> go on }
             observe bad \"Bad?\" { yes -> stop \"Bad.\"\n no -> go on }
             at the end { confirm \"Clean.\" }
             confirm \"Late.\"",
        ),
        "0 @1 act-observe question=“Early?” reading=early {take early} arm0>1 arm1>2
         1 @1 pass {leave blocks} next>5
         2 @2 act-observe question=“Bad?” reading=bad {take bad} arm0>3 arm1>4
         3 @2 stop “Bad.”
         4 @3 act-confirm statement=“Late.” next>5
         5 @4 act-confirm statement=“Clean.” next>6
         6 @ done",
    );
}

#[test]
fn done_at_the_end_ends_the_job() {
    assert_rows(
        &with_kettle(
            "confirm \"a\"
             at the end { observe quiet { yes -> done\n no -> go on }\n confirm \"b\" }",
        ),
        "0 @1 act-confirm statement=“a” next>1
         1 @2 act-observe reading=quiet {take quiet} arm0>2 arm1>3
         2 @2 pass {leave blocks} next>4
         3 @3 act-confirm statement=“b” next>4
         4 @ done",
    );
}

#[test]
fn a_subtask_is_laid_in_with_its_callers_number_before_its_own() {
    let text = with_kettle("confirm \"a\"\ndo off\ndo off")
        + "subtask off on kettle { starts with plug is plugged-in\n leaves plug is pulled\n set plug to pulled }";
    // The second call is not allowed by what it starts with; that is for the proof to find.
    assert_rows(
        &text,
        "0 @1 act-confirm statement=“a” next>1
         1 @2 enter off [plug is plugged-in] next>2
         2 @2.1 act-set state=plug value=pulled {plug=pulled} next>3
         3 @2 leave off [plug] next>4
         4 @3 enter off [plug is plugged-in] next>5
         5 @3.1 act-set state=plug value=pulled {plug=pulled} next>6
         6 @3 leave off [plug] next>7
         7 @ done",
    );
}

#[test]
fn a_subtask_in_an_outcome_is_numbered_by_the_block() {
    let text = with_kettle("observe wet { no -> go on\n yes -> do dry then stop \"x\" }")
        + "subtask dry on kettle { title \"Dry it\"\n step \"Dry.\"\n step \"Again.\" }";
    assert_rows(
        &text,
        "0 @1 act-observe reading=wet {take wet} arm0>6 arm1>1
         1 @1 enter dry [] next>2
         2 @1a.1 act-step next>3
         3 @1a.2 act-step next>4
         4 @1 leave dry [] next>5
         5 @1 stop “x”
         6 @ done",
    );
}

#[test]
fn a_wait_counts_from_the_end_of_the_step_that_it_names() {
    assert_rows(
        &with_kettle(
            "step off \"Off.\" { set plug to pulled\n confirm \"Off.\" }
             wait 10 min since off
             wait 30 s
             set plug to plugged-in",
        ),
        "0 @1 act-set state=plug value=pulled {plug=pulled} next>1
         1 @1 act-confirm statement=“Off.” next>2
         2 @1 pass {ends 1} next>3
         3 @2 act-wait-since duration=(10 min) step=step-1 (600 s) {wait 600 since 1} next>4
         4 @3 act-wait duration=(30 s) (30 s) {wait 30} next>5
         5 @4 act-set state=plug value=plugged-in {plug=plugged-in} next>6
         6 @ done",
    );
}

#[test]
fn a_procedure_that_always_stops_never_comes_to_done() {
    assert_rows(
        &with_kettle("observe bad { yes -> stop \"a\"\n no -> refer to \"b\" }"),
        "0 @1 act-observe reading=bad {take bad} arm0>1 arm1>2
         1 @1 stop “a”
         2 @1 refer “b”",
    );
}

#[test]
fn the_outline_tells_where_a_repeat_leads_when_its_rounds_are_used_up() {
    let text = with_kettle(
        "measure gap using rule { accept at most 5 mm
           otherwise repeat gap up to 3 times, failing that { confirm \"Off.\" } then stop \"No.\" }",
    );
    let graph = graph(&text, "p");
    let [Outline::Step { items, .. }] = graph.outline.as_slice() else { panic!("one step") };
    let [Outline::Line { .. }, Outline::Outcome { items, leads, .. }] = items.as_slice() else {
        panic!("a line and what follows")
    };
    assert!(items.is_empty());
    let Leads::Again { times: 3, failing, .. } = leads else { panic!("again") };
    let (items, leads) = failing.as_ref();
    assert!(matches!(items.as_slice(), [Outline::Line { .. }]));
    assert!(matches!(leads, Leads::Stop { .. }));
}

#[test]
fn every_line_of_the_outline_is_an_act_of_the_flow_and_every_act_a_line() {
    let text = with_kettle(
        "any order { confirm \"a\"\n step \"B.\" { when plug is pulled { confirm \"b\" } } }
         observe wet { no -> go on\n yes -> { confirm \"c\" } }
         at the end confirm \"d\"",
    );
    let graph = graph(&text, "p");
    let mut lines = Vec::new();
    gather(&graph.outline, &mut lines);
    let acts = graph.flow.node_indices().filter(|id| graph.node(*id).act().is_some());
    lines.sort();
    assert_eq!(lines, acts.collect::<Vec<_>>());
}

fn gather(items: &[Outline], lines: &mut Vec<locknut_graph::NodeId>) {
    for item in items {
        match item {
            Outline::Line { node } => lines.push(*node),
            Outline::Section { items, .. }
            | Outline::Step { items, .. }
            | Outline::Outcome { items, .. }
            | Outline::AnyOrder { items, .. }
            | Outline::Group { items }
            | Outline::Unbroken { items }
            | Outline::Call { items, .. }
            | Outline::AtTheEnd { items } => gather(items, lines),
            Outline::Branch { arms, .. } => arms.iter().for_each(|arm| gather(&arm.items, lines)),
            Outline::Together { lanes, .. } => {
                for lane in lanes {
                    gather(&lane.items, lines);
                }
            }
            Outline::Note { .. } | Outline::Not { .. } | Outline::Template { .. } => {}
        }
    }
}

#[test]
fn the_way_back_lies_on_every_way_here() {
    // Into a freed block from behind it, into an arm from behind it, and to a step that comes later.
    let into_block = with_kettle(
        "any order { step a \"A.\"\n step \"B.\" }
         observe ok { yes -> go on\n no -> repeat a up to 1 times, failing that stop \"x\" }",
    );
    assert_eq!(codes(&into_block), ["LN415"]);
    let into_arm = with_kettle(
        "when plug is pulled { step a \"A.\" }
         observe ok { yes -> go on\n no -> repeat a up to 1 times, failing that stop \"x\" }",
    );
    assert_eq!(codes(&into_arm), ["LN414"]);
    let later = with_kettle(
        "observe ok { yes -> go on\n no -> repeat a up to 1 times, failing that stop \"x\" }
         step a \"A.\"",
    );
    assert_eq!(codes(&later), ["LN414"]);
}

#[test]
fn the_only_arm_that_goes_on_is_certain() {
    let text = with_kettle(
        "observe fast { yes -> { step a \"A.\" }\n no -> stop \"x\" }
         observe ok { yes -> go on\n no -> repeat a up to 1 times, failing that stop \"x\" }",
    );
    assert!(codes(&text).is_empty());
}

#[test]
fn a_bound_is_a_number_that_a_person_would_keep() {
    let repeat = |bound: &str| {
        with_kettle(&format!(
            "observe ok {{ yes -> go on\n no -> repeat ok {bound}, failing that stop \"x\" }}"
        ))
    };
    assert!(codes(&repeat("up to 100 times")).is_empty());
    assert_eq!(codes(&repeat("up to 0 times")), ["LN411"]);
    assert_eq!(codes(&repeat("up to 101 times")), ["LN411"]);
    assert_eq!(codes(&repeat("")), ["LN411"]);
    let endless = with_kettle("observe ok { yes -> go on\n no -> repeat ok up to 2 times }");
    assert_eq!(codes(&endless), ["LN111"]);
}

#[test]
fn a_circle_of_subtasks_is_told_once_for_all_who_meet_it() {
    let text = with_kettle("do b")
        + "subtask a on kettle { do b }\nsubtask b on kettle { do c }\nsubtask c on kettle { do a }";
    let report = only(&text);
    assert_eq!(report.code, "LN413");
    assert_eq!(report.labels[0].text, "a → b → c → a");
}

#[test]
fn a_tower_of_calls_has_a_bound_and_a_message() {
    let tower = |levels: usize, calls: usize| {
        let level = |level: usize| {
            let next = vec![format!("do t{}", level + 1); calls].join("\n");
            let inside = if level + 1 == levels { "confirm \"x\"".to_owned() } else { next };
            format!("subtask t{level} on kettle {{ {inside} }}\n")
        };
        with_kettle("do t0") + &(0..levels).map(level).collect::<String>()
    };
    assert!(codes(&tower(20, 1)).is_empty());
    assert!(codes(&tower(30, 1)).contains(&"LN409"), "thirty deep");
    assert!(codes(&tower(16, 2)).contains(&"LN409"), "2^15 calls are not laid out");
}
