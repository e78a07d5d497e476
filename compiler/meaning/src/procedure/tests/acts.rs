//! What acts do, ask and say.

use super::{assert_rows, codes, graph, only, rows};
use locknut_graph::{Because, Node};

const PUMP: &str = r#"
model pump { title "Pump"
  state plug : plugged-in, pulled
  part lid
  part strainer : behind lid
  bolts lid-bolts : 4 of M8 class 8.8 dry, fastens lid, crosswise, tightened to 22 ± 2 N·m
  fluid oil : 0.4 L of gear-oil
  shaft rotor
  never turn rotor while plug is plugged-in because "the hand is caught"
}
consumable gear-oil { fills }
instrument wrench { applies torque 5 .. 100 N·m, error 4 % of reading }
tool puller { special, number "P-1", fits strainer }
"#;

fn with_pump(items: &str) -> String {
    format!("{PUMP}\nprocedure p on pump {{\n title \"P\"\n crew fitter, mate\n{items}\n}}\n{KEEP}")
}

/// Keeps everything in use, so that a test need not use it all.
const KEEP: &str =
    "subtask keep on pump { tighten lid-bolts using wrench\n fit puller\n fill oil }\n";

#[test]
fn a_thing_at_points_is_done_at_all_of_them_and_said_with_them() {
    assert_rows(
        "model bike { title \"Bike\"\n part wheel : at front, rear\n}
         procedure p on bike { title \"P\"\n remove wheel\n fit wheel at rear\n fit wheel at front\n }",
        "0 @1 part-remove thing=wheel at front and rear {wheel at front=removed wheel at rear=removed} next>1
         1 @2 part-fit thing=wheel at rear {wheel at rear=in-place} next>2
         2 @3 part-fit thing=wheel at front {wheel at front=in-place} next>3
         3 @ done",
    );
}

#[test]
fn each_thing_of_a_line_is_an_act_of_its_own() {
    assert_rows(
        &with_pump("remove lid-bolts, lid\nfit lid, lid-bolts\ntighten lid-bolts using wrench"),
        "0 @1 bolts-remove count=4 thing=lid-bolts {lid-bolts=out} next>1
         1 @1 part-remove thing=lid {lid=removed} next>2
         2 @2 part-fit thing=lid {lid=in-place} next>3
         3 @2 bolts-fit count=4 thing=lid-bolts {lid-bolts=slack} next>4
         4 @3 bolts-tighten count=4 instrument=wrench pattern=(crosswise) stages=[stage-torque torque=(22 ± 2 N·m)] thing=lid-bolts {lid-bolts=tight} next>5
         5 @ done",
    );
}

#[test]
fn quantity_sense_and_effort_follow_the_thing() {
    let rows = rows(&with_pump(
        "set plug to pulled\nturn rotor 2 turns clockwise with one-hand\nset plug to plugged-in",
    ));
    assert!(
        rows.contains("shaft-turn effort=one-hand effort-limit=(50 .. 150 N) quantity=(2 turns) sense=(clockwise) thing=rotor"),
        "{rows}"
    );
}

#[test]
fn a_fluid_is_filled_with_what_the_model_says() {
    let text = with_pump("drain oil\nfill oil\ndrain oil\nfill oil");
    let rows = rows(&text);
    assert!(rows.contains("fluid-fill quantity=(0.4 L) thing=oil with=gear-oil"), "{rows}");
    let graph = graph(&text, "p");
    let quantity = graph.materials[0].quantity.as_ref().expect("a quantity");
    assert_eq!(quantity.written, "0.8 L", "two fills need twice as much");
}

#[test]
fn a_special_tool_goes_in_and_out() {
    let rows = rows(&with_pump(
        "remove lid-bolts, lid\nfit puller\nremove puller\nfit lid, lid-bolts\ntighten lid-bolts using wrench",
    ));
    assert!(rows.contains("act-fit-tool thing=strainer tool=puller {puller=fitted}"), "{rows}");
    assert!(rows.contains("act-remove-tool thing=strainer tool=puller {puller=out}"), "{rows}");
}

#[test]
fn every_act_on_the_model_keeps_its_interlocks_on_acts() {
    let graph = graph(&with_pump("turn rotor 1 turns"), "p");
    let act = graph.flow.node_weights().find_map(Node::act).expect("an act");
    let never = act.assertions.iter().find(|one| matches!(one.because, Because::Never { .. }));
    assert_eq!(never.expect("never").written, "turn rotor while plug is plugged-in");
}

#[test]
fn the_needs_of_a_head_are_asked_of_its_acts_and_not_of_blocks() {
    let graph = graph(
        &with_pump(
            "step \"S.\" needs plug is plugged-in {
               confirm \"a\"
               observe b { yes -> go on\n no -> { confirm \"c\" } then stop \"x\" }
               confirm \"d\" needs plug is pulled
             }",
        ),
        "p",
    );
    let asked: Vec<usize> =
        graph.flow.node_weights().filter_map(Node::act).map(|act| act.assertions.len()).collect();
    assert_eq!(asked, [1, 1, 0, 2]);
}

#[test]
fn an_act_makes_what_it_says() {
    assert_rows(
        &with_pump("confirm \"Pulled.\" makes plug is pulled\nset plug to plugged-in"),
        "0 @1 act-confirm statement=“Pulled.” {plug=pulled} next>1
         1 @2 act-set state=plug value=plugged-in {plug=plugged-in} next>2
         2 @ done",
    );
    for wrong in
        ["plug is pulled or lid is removed", "plug is not pulled", "plug is pulled for 5 min"]
    {
        assert_eq!(
            codes(&with_pump(&format!("confirm \"x\" makes {wrong}"))),
            ["LN425"],
            "{wrong}"
        );
    }
}

#[test]
fn people_and_time_of_lines_add_up_where_the_head_is_silent() {
    let graph = graph(
        &with_pump(
            "step \"S.\" { confirm \"a\" by fitter, takes 2 min\n confirm \"b\" by mate, takes 1 .. 2 .. 6 min }
             step \"T.\" by all, takes 1 min { confirm \"c\" takes 9 min }",
        ),
        "p",
    );
    let minutes = |step: &locknut_graph::Step| {
        let (shortest, likely, longest) = step.takes.clone().expect("timed");
        [shortest, likely, longest].map(|time| {
            (time / locknut_quantity::Exact::from_integer(60.into())).to_integer().to_string()
        })
    };
    assert_eq!(minutes(&graph.steps[0]), ["3", "4", "8"]);
    assert_eq!(minutes(&graph.steps[1]), ["1", "1", "1"]);
    assert!(matches!(&graph.steps[0].by, locknut_graph::By::Roles(roles) if roles.len() == 2));
    assert_eq!(graph.steps[1].by, locknut_graph::By::All);
}

#[test]
fn what_does_not_fit_an_act_is_told_with_what_does() {
    let report = only(&with_pump("set plug to pulled since lid\nset plug to plugged-in"));
    assert_eq!(report.code, "LN421");
    assert_eq!(report.notes, ["it takes: to, at, using, needs, makes, takes, by and despite"]);
    assert_eq!(
        codes(&with_pump("confirm \"a\" needs plug is pulled by mate by fitter")),
        ["LN421"]
    );
    assert_eq!(codes(&with_pump("do keep makes plug is pulled")), ["LN421"]);
    assert_eq!(codes(&with_pump("note \"a\" by mate\nconfirm \"b\"")), ["LN421"]);
    assert_eq!(codes(&with_pump("confirm")), ["LN422"]);
    assert_eq!(codes(&with_pump("remove")), ["LN422"]);
    assert_eq!(codes(&with_pump("remove lid 2 turns")), ["LN422"]);
    assert_eq!(codes(&with_pump("remove lit")), ["LN101"]);
    assert_eq!(codes(&with_pump("tighten lid using wrench")), ["LN423"]);
    assert_eq!(codes(&with_pump("set lid to removed")), ["LN426"]);
    assert_eq!(codes(&with_pump("set plug to pulld")), ["LN109"]);
    assert_eq!(codes(&with_pump("wait 5 mm")), ["LN202"]);
}

#[test]
fn an_unknown_verb_is_told_the_nearest_and_what_the_thing_takes() {
    let report = only(&with_pump("remov lid"));
    assert_eq!(report.code, "LN420");
    assert_eq!(report.mends[0].text, "did you mean remove?");
    assert_eq!(report.notes, ["lid takes: fit, press, remove and renew"]);
}

#[test]
fn an_answered_finding_is_kept_for_the_reviewer() {
    let graph = graph(&with_pump("confirm \"a\" despite LN652 because \"It is only a lid.\""), "p");
    let (code, because, _) = &graph.answered[0];
    assert_eq!((code.as_str(), because.written().as_str()), ("LN652", "It is only a lid."));
    for code in ["LN512", "LN402", "LN61", "rust"] {
        let text = format!("confirm \"a\" despite {code} because \"x\"");
        assert_eq!(codes(&with_pump(&text)), ["LN434"], "{code}");
    }
    assert_eq!(codes(&with_pump("confirm \"a\" despite LN652")), ["LN111"]);
}
