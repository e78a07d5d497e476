//! What readings are, and how limits, arms and choices are held against them.

use super::{assert_rows, codes, graph, only, reports};
use locknut_graph::{ActKind, Because, ReadingKind, Verdict};

const LATHE: &str = r#"
model lathe { title "Lathe"
  state plug : plugged-in, pulled
}
instrument dial { measures length 0 .. 5 mm, resolution 0.01 mm, error 0.005 mm }
"#;

fn with_lathe(items: &str) -> String {
    format!(
        "{LATHE}\nprocedure p on lathe {{\n title \"P\"\n{items}\n}}\nsubtask keep on lathe {{ measure anything using dial }}\n"
    )
}

#[test]
fn a_reading_is_shown_as_its_instrument_shows_it() {
    let graph =
        graph(&with_lathe("measure play at front, back using dial, expect 0.1 .. 1 mm"), "p");
    let reading = &graph.readings[0];
    assert!(matches!(reading.kind, ReadingKind::Quantity { decimals: 2, .. }));
    let points: Vec<&str> = reading.points.iter().map(|point| point.said.as_str()).collect();
    assert_eq!(points, ["front", "back"]);
    assert_eq!(graph.instruments.len(), 1);
}

#[test]
fn a_mean_is_shown_with_one_digit_more() {
    let graph = graph(
        &with_lathe(
            "measure play at front, back using dial
             check middle = mean(play) { accept at most 1 mm\n otherwise stop \"x\" }",
        ),
        "p",
    );
    assert!(matches!(graph.readings[1].kind, ReadingKind::Quantity { decimals: 3, .. }));
}

#[test]
fn a_proof_holds_from_where_the_reading_is_accepted() {
    let text = with_lathe(
        "set plug to pulled
         measure gap using dial, proves plug is pulled { accept at most 1 mm\n otherwise { set plug to plugged-in } then stop \"x\" }
         set plug to plugged-in",
    );
    assert_rows(
        &text,
        "0 @1 act-set state=plug value=pulled {plug=pulled} next>1
         1 @2 act-measure instrument=dial reading=gap {take gap} accepted {prove plug}>4 otherwise {plug-is-denied=denied}>2
         2 @2 act-set state=plug value=plugged-in {plug=plugged-in plug-is-denied=not-denied} next>3
         3 @2 stop “x”
         4 @3 act-set state=plug value=plugged-in {plug=plugged-in} next>5
         5 @ done",
    );
    let graph = graph(&text, "p");
    let act = graph.flow.node_weights().filter_map(locknut_graph::Node::act).nth(1).unwrap();
    assert!(matches!(act.assertions[0].because, Because::MadeSo));
    assert_eq!(act.assertions[0].written, "plug is pulled");
}

#[test]
fn an_arm_proves_only_where_it_goes_straight_on() {
    assert_rows(
        &with_lathe(
            "set plug to pulled
             observe lamp proves plug is pulled { dark -> go on\n dim -> { set plug to pulled }\n lit -> stop \"x\" }
             set plug to plugged-in",
        ),
        "0 @1 act-set state=plug value=pulled {plug=pulled} next>1
         1 @2 act-observe reading=lamp {take lamp} arm0 {prove plug}>4 arm1 {plug-is-denied=denied}>2 arm2 {plug-is-denied=denied}>3
         2 @2 act-set state=plug value=pulled {plug=pulled plug-is-denied=not-denied} next>4
         3 @2 stop “x”
         4 @3 act-set state=plug value=plugged-in {plug=plugged-in plug-is-denied=not-denied} next>5
         5 @ done",
    );
}

#[test]
fn an_outcome_that_denies_a_proof_does_not_lead_on_as_if_nothing_was() {
    let found = |line: &str| {
        codes(&with_lathe(&format!("set plug to pulled\n{line}\nset plug to plugged-in")))
    };
    let volts = |otherwise: &str| {
        found(&format!(
            "measure gap using dial, proves plug is pulled {{ accept at most 1 mm\n otherwise {otherwise} }}"
        ))
    };
    assert_eq!(volts("go on"), ["LN323"]);
    assert_eq!(volts("{ confirm \"Looked.\" }"), ["LN323"]);
    assert_eq!(volts("{ set plug to pulled }"), [""; 0]);
    assert_eq!(volts("stop \"x\""), [""; 0]);
    let lamp = |dim: &str| {
        found(&format!(
            "observe lamp proves plug is pulled {{ dark -> go on\n dim -> {dim}\n lit -> stop \"x\" }}"
        ))
    };
    assert_eq!(lamp("{ confirm \"Looked.\" }"), ["LN323"]);
    assert_eq!(
        lamp(
            "{ observe again \"Is it dark now?\", proves plug is pulled { yes -> go on\n no -> stop \"x\" } }"
        ),
        [""; 0]
    );
}

#[test]
fn a_state_that_was_unknown_is_denied_only_once_it_was_set() {
    let looked = "measure gap using dial, proves plug is pulled { accept at most 1 mm\n otherwise { confirm \"Looked.\" } }";
    let found = |before: &str| {
        codes(&with_lathe(&format!(
            "starts with plug unknown\n{before}\n{looked}\nset plug to plugged-in"
        )))
    };
    assert!(!found("").contains(&"LN323"));
    assert!(found("step \"Pull it.\" { set plug to pulled }").contains(&"LN323"));
}

#[test]
fn a_repeat_back_past_a_proof_makes_it_void() {
    let text = with_lathe(
        "set plug to pulled
         step look \"Look.\" {
           observe lamp proves plug is pulled { dark -> go on\n lit -> stop \"x\" }
           measure gap using dial { accept at most 1 mm\n otherwise repeat look up to 1 times, failing that stop \"y\" }
         }
         set plug to plugged-in",
    );
    let rows = super::rows(&text);
    assert!(rows.contains("again {void lamp,gap,plug}>"), "{rows}");
}

#[test]
fn an_answer_that_is_asked_for_later_is_written_down_by_its_way() {
    assert_rows(
        &with_lathe(
            "observe pads { dry or damp -> go on\n oily -> stop \"x\" }
             when pads is damp { confirm \"Dried.\" }",
        ),
        "0 @1 act-observe reading=pads {take pads} arm0 {pads=dry}>2 arm1 {pads=damp}>2 arm2 {pads=oily}>1
         1 @1 stop “x”
         2 @ when pads=damp arm0>3 arm1>4
         3 @2 act-confirm statement=“Dried.” next>4
         4 @ done",
    );
    assert_rows(
        &with_lathe("observe clean \"Is it clean?\"\nwhen clean is no { confirm \"Wiped.\" }"),
        "0 @1 act-observe question=“Is it clean?” reading=clean {take clean} arm0 {clean=yes}>1 arm1 {clean=no}>1
         1 @ when clean=no arm0>2 arm1>3
         2 @2 act-confirm statement=“Wiped.” next>3
         3 @ done",
    );
}

#[test]
fn an_answer_that_nobody_asks_for_needs_no_variable() {
    let graph = graph(&with_lathe("observe clean \"Is it clean?\""), "p");
    let acts = graph.flow.node_weights().find_map(locknut_graph::Node::act).unwrap();
    assert!(matches!(&acts.kind, ActKind::Observe { verdict: Verdict::None, .. }));
    assert_eq!(graph.variables.len(), 1);
}

#[test]
fn arms_are_held_against_the_digits_of_the_instrument() {
    let arms = |arms: &str| with_lathe(&format!("measure play using dial {{ {arms} }}"));
    let clean = arms("at most 0.30 mm -> go on\n over 0.30 mm -> stop \"x\"");
    assert!(reports(&clean).is_empty());
    let touching = arms("at most 0.30 mm -> go on\n at least 0.31 mm -> stop \"x\"");
    assert!(reports(&touching).is_empty(), "nothing lies between two digits");
    let gap = only(&arms("at most 0.30 mm -> go on\n over 0.32 mm -> stop \"x\""));
    assert_eq!(gap.code, "LN305");
    assert_eq!(gap.labels[0].text, "no arm covers 0.31 .. 0.32 mm");
    let single = only(&arms("at most 0.30 mm -> go on\n over 0.31 mm -> stop \"x\""));
    assert_eq!(single.labels[0].text, "no arm covers 0.31 mm");
    let twice = only(&arms("at most 0.32 mm -> go on\n at least 0.30 mm -> stop \"x\""));
    assert_eq!(twice.code, "LN306");
    assert_eq!(twice.labels[0].text, "this arm covers 0.30 .. 0.32 mm");
}

#[test]
fn arms_need_only_cover_what_is_expected() {
    let text = with_lathe(
        "measure play using dial, expect 0 .. 1 mm { at most 0.30 mm -> go on\n over 0.30 to 1 mm -> stop \"x\" }",
    );
    assert!(reports(&text).is_empty());
}

#[test]
fn answers_are_covered_and_not_doubled() {
    let observe = |arms: &str| with_lathe(&format!("observe it {{ {arms} }}"));
    assert_eq!(codes(&observe("yes -> go on")), ["LN305"]);
    assert_eq!(codes(&observe("dry -> go on")), ["LN305"]);
    assert_eq!(codes(&observe("dry -> go on\n wet or dry -> stop \"x\"")), ["LN306"]);
    assert!(reports(&observe("dry -> go on\n wet or damp -> stop \"x\"")).is_empty());
}

#[test]
fn a_count_is_a_whole_number_from_nothing_up() {
    let count = |body: &str| with_lathe(&format!("count drops {body}"));
    assert!(reports(&count("{ at most 3 -> go on\n at least 4 -> stop \"x\" }")).is_empty());
    let gap = only(&count("{ at most 3 -> go on\n over 4 -> stop \"x\" }"));
    assert_eq!(gap.labels[0].text, "no arm covers 4");
    assert_eq!(codes(&count("{ accept at least 0\n otherwise stop \"x\" }")), ["LN308"]);
}

#[test]
fn a_spread_is_never_wider_than_what_its_points_can_show() {
    let check = |limit: &str| {
        with_lathe(&format!(
            "measure gap at a, b, c using dial, expect 0.35 .. 1.60 mm
             check spread = max(gap) - min(gap) {{ accept {limit}\n otherwise stop \"x\" }}"
        ))
    };
    assert!(reports(&check("at most 0.15 mm")).is_empty());
    assert_eq!(codes(&check("at most 1.25 mm")), ["LN308"]);
    assert_eq!(codes(&check("at least 0 mm")), ["LN308"]);
    assert_eq!(codes(&check("over 1.25 mm")), ["LN309"]);
}

#[test]
fn a_limit_may_be_worked_out_from_earlier_readings() {
    let graph = graph(
        &with_lathe(
            "measure first using dial, expect 0 .. 4 mm
             measure second using dial { accept at most first + 0.1 mm\n otherwise stop \"x\" }",
        ),
        "p",
    );
    let act = graph.flow.node_weights().filter_map(locknut_graph::Node::act).nth(1).unwrap();
    let Some(Verdict::Accept { computed: Some(computed), .. }) = act.kind.verdict() else {
        panic!("a computed limit")
    };
    assert!(computed.lower.is_none() && computed.upper.is_some());
}

#[test]
fn a_choice_covers_what_is_expected_or_with_an_otherwise_what_is_usual() {
    let choose = |measure: &str, sizes: &str, rest: &str| {
        with_lathe(&format!(
            "measure gap using dial, {measure}
             choose size from {sizes} so that left is 0.10 .. 0.25 mm, where left = gap - size, prefer largest{rest}"
        ))
    };
    let all = "expect 0.30 .. 0.80 mm";
    assert!(reports(&choose(all, "0.20, 0.35, 0.50, 0.55 mm", "")).is_empty());
    let gap = only(&choose(all, "0.20, 0.50, 0.55 mm", ""));
    assert_eq!(gap.code, "LN313");
    assert_eq!(gap.title, "no size fits where gap is 0.46 .. 0.59 mm");
    let otherwise = "\n otherwise refer to \"Stores\"";
    assert!(reports(&choose(all, "0.20, 0.50, 0.55 mm", otherwise)).is_empty());
    let usual = "expect 0.30 .. 0.80 mm, usually 0.40 .. 0.47 mm";
    let gap = only(&choose(usual, "0.20, 0.50, 0.55 mm", otherwise));
    assert_eq!(
        gap.title,
        "no size fits where gap is 0.46 mm and 0.47 mm".replace(" mm and", " mm,")
    );
}

#[test]
fn a_reading_is_asked_for_only_below_its_line() {
    let report = only(&with_lathe("confirm \"It is {gap}.\"\nmeasure gap using dial"));
    assert_eq!(report.code, "LN318");
    let report = only(&with_lathe("when wet is yes { confirm \"x\" }\nobserve wet"));
    assert_eq!(report.code, "LN318");
}

#[test]
fn one_name_is_one_reading() {
    assert_eq!(codes(&with_lathe("count a\ncount a")), ["LN102"]);
    assert_eq!(codes(&with_lathe("measure a at x, x using dial")), ["LN102"]);
}
