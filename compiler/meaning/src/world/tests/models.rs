//! Models: states, things and what is said of them, rules, hazards.

use super::{clean, codes, library, model, only, told};
use locknut_graph::Stage;
use locknut_graph::{Condition, Signal, Test, VariableKind};
use std::fmt::Write;

const DRIVE: &str = r#"
model drive {
  title "Slewing drive"
  series A, B, C
  serial number
  value discharge-time = 10 min
  state supply : live, isolated
  state jib    : free, tethered
  part  shim-pack   : behind brake-cover
  part  brake-cover
  part  calliper    : behind brake-cover, single use
  part  stop-screw  : in calliper, sealed because "its setting is made on the test bed" else renew calliper
  shaft slew-pinion
  bolts cover-bolts    : 8 of M8 class 8.8 dry, fastens brake-cover, on rectangle 4 x 2,
                         tightened to 22 ± 2 N·m
  bolts calliper-bolts : 6 of M12 class 10.9 oiled, fastens calliper, on pitch circle 180 mm, crosswise,
                         tightened to 60 ± 5 N·m, then turned 45°
  fluid gear-oil : 6.5 L of gear-oil-220, in gearbox
  part  gearbox
  connector plug : carries supply, dead when supply is isolated, normally parted
  lock isolator-lock : bars supply at isolated
  never brake-cover is removed unless supply is isolated for discharge-time and supply is proved isolated
    because "it holds a charge"
  never turn slew-pinion while jib is free because "the jib swings"
  danger "It can kill for {discharge-time}." at brake-cover while supply is live or supply is isolated for under discharge-time
  caution "Sharp edges."
  safe to leave when jib is tethered
}
consumable gear-oil-220 { fills }
tool calliper-peg { special, fits calliper }
"#;

#[test]
fn states_come_first_then_things_then_tools() {
    let (_, model) = model(DRIVE);
    let names: Vec<&str> =
        model.variables.iter().map(|variable| variable.words.name.as_str()).collect();
    let wanted = [
        "supply",
        "jib",
        "shim-pack",
        "brake-cover",
        "calliper",
        "stop-screw",
        "slew-pinion",
        "cover-bolts",
        "calliper-bolts",
        "gear-oil",
        "gearbox",
        "plug",
        "isolator-lock",
        "calliper-peg",
    ];
    assert_eq!(names, wanted);
    assert_eq!(model.variables[13].kind, VariableKind::Tool);
    let plug = &model.variables[11];
    assert_eq!(plug.values[usize::from(plug.normal)].words.name, "parted");
    assert_eq!((model.series.len(), model.has_serial), (3, true));
    assert_eq!(model.title.written(), "Slewing drive");
}

#[test]
fn bolts_carry_their_figures() {
    let (_, model) = model(DRIVE);
    let bolts = &model.things["calliper-bolts"];
    assert_eq!(bolts.count, Some(6));
    let named =
        [&bolts.thread, &bolts.strength, &bolts.friction].map(|name| name.as_deref().unwrap());
    assert_eq!(named, ["M12", "10.9", "oiled"]);
    assert_eq!(bolts.pattern.as_deref(), Some("on pitch circle 180 mm, crosswise"));
    let stages: Vec<&str> = bolts
        .tightening
        .iter()
        .map(|stage| match stage {
            Stage::Torque(limit) | Stage::Angle(limit) => limit.written.as_str(),
        })
        .collect();
    assert_eq!(stages, ["60 ± 5 N·m", "45°"]);
    assert!(matches!(bolts.tightening[1], Stage::Angle(_)));
    assert_eq!(model.things["cover-bolts"].pattern.as_deref(), Some("on rectangle 4 x 2"));
    let (amount, content) = model.things["gear-oil"].content.clone().unwrap();
    assert_eq!((amount.unwrap().written.as_str(), content.as_str()), ("6.5 L", "gear-oil-220"));
}

#[test]
fn relations_are_seen_from_both_ends_and_shared_with_fasteners() {
    let (world, model) = model(DRIVE);
    assert_eq!(model.things["brake-cover"].relations["fastened-by"], ["cover-bolts"]);
    assert_eq!(model.things["calliper-bolts"].relations["behind"], ["brake-cover"]);
    assert_eq!(model.things["stop-screw"].relations["in"], ["calliper"]);
    // A special tool stands behind whatever the thing it fits stands behind.
    let tool = world.related(&model, "calliper-peg", "behind");
    assert_eq!(tool.iter().map(|(name, _)| name.as_str()).collect::<Vec<_>>(), ["brake-cover"]);
    assert!(!model.things["cover-bolts"].relations.contains_key("behind"));
}

#[test]
fn marks_and_conditions_of_a_thing_are_kept() {
    let (_, model) = model(DRIVE);
    assert!(model.things["calliper"].marks.contains("single use"));
    let (because, otherwise, _) = model.things["stop-screw"].sealed.clone().unwrap();
    assert_eq!(because.written(), "its setting is made on the test bed");
    assert_eq!(otherwise.as_deref(), Some("renew calliper"));
    let dead = &model.things["plug"].own_conditions["dead"];
    assert!(matches!(dead, Condition::Test(Test::Is { .. })));
    assert_eq!(model.things["isolator-lock"].bars, [(model.variable_named["supply"], 1)]);
}

#[test]
fn rules_hold_unless_or_not_what_is_never() {
    let (_, model) = model(DRIVE);
    let [interlock] = model.interlocks.as_slice() else { panic!("one interlock") };
    assert_eq!(
        interlock.written,
        "brake-cover is removed unless supply is isolated for discharge-time and supply is proved isolated"
    );
    let Condition::Any(ways) = &interlock.holds else { panic!("two ways") };
    assert!(matches!(&ways[0], Condition::All(both) if both.len() == 2));
    assert!(matches!(&ways[1], Condition::Not(_)));
    let held = interlock.holds.tests().into_iter().find_map(|test| match test {
        Test::Held { seconds, under, .. } => Some((seconds.clone(), *under)),
        Test::Is { .. } | Test::Proved { .. } | Test::Within { .. } => None,
    });
    assert_eq!(held, Some((locknut_quantity::parse_exact("600").unwrap(), false)));
    let act = &model.act_interlocks[0];
    assert_eq!(
        (act.verb.as_str(), act.things.as_slice()),
        ("turn", ["slew-pinion".to_owned()].as_slice())
    );
    assert_eq!(act.written, "turn slew-pinion while jib is free");
    assert!(matches!(&act.holds, Condition::Not(_)));
}

#[test]
fn a_hazard_guards_what_stands_behind_and_every_fastener() {
    let (_, model) = model(DRIVE);
    assert_eq!(model.hazards[0].signal, Signal::Danger);
    assert_eq!(model.hazards[0].text.written(), "It can kill for 10 min.");
    let guarded: Vec<&str> = model.hazard_things[0].iter().map(String::as_str).collect();
    let wanted =
        ["brake-cover", "calliper", "calliper-bolts", "calliper-peg", "cover-bolts", "shim-pack"];
    assert_eq!(guarded, wanted);
    assert!(model.hazard_things[1].is_empty() && model.hazards[1].at.is_empty());
}

#[test]
fn left_out_a_machine_is_left_as_its_states_normally_are() {
    let (_, model) = model("model m { state a : x, y\n state b : z, w\n part p }");
    let Condition::All(parts) = &model.safe_to_leave.0 else { panic!("all states") };
    assert_eq!(parts.len(), 2);
}

#[test]
fn names_of_one_model_mean_one_thing() {
    let report = only("model m { state a : x, y\n part a }");
    assert_eq!((report.code, report.labels.len()), ("LN102", 2));
    assert_eq!(codes("model m { part a }\nmodel m { part b }"), ["LN102"]);
    assert_eq!(codes("model m { state a : x, x }"), ["LN115"]);
    assert_eq!(codes("model m { title \"A\"\n title \"B\" }"), ["LN115"]);
    // Each model has its own names.
    clean("model m { part a }\nmodel n { part a }");
}

#[test]
fn what_is_unknown_is_told_with_the_nearest() {
    let nearest = |text: &str| {
        let report = only(text);
        let mend = report.mends.first().cloned();
        let edit = mend.as_ref().and_then(|mend| mend.edits.first().cloned());
        // Of several that are near none is offered to be written at once.
        let among = mend.and_then(|mend| Some(mend.text.split_once(": is ")?.1.to_owned()));
        let text = edit.map(|edit| edit.text).or(among.map(|among| format!("is {among}")));
        (report.code, text.unwrap_or_default())
    };
    let cases = [
        ("model m { prat cover }", ("LN101", "part")),
        ("model m { part cover\n part belt : behind cuver }", ("LN101", "cover")),
        ("model m { part cover\n part belt : behidn cover }", ("LN104", "behind")),
        ("model m { part cover : singel use }", ("LN104", "single use")),
        ("model m { bolts b : 8 of M9 }", ("LN101", "M8")),
        ("model m { bolts b : 8 of M13 }", ("LN101", "is M12 or M14 meant?")),
        ("model m { bolts b : 8 of M37 }", ("LN101", "M36")),
        ("model m { bolts b : 8 of M12x1.1 }", ("LN101", "is M12, M12x1 or M12x1.25 meant?")),
        ("model m { bolts b : 8 of M12x2 }", ("LN101", "is M12, M12x1.5 or M12x1.25 meant?")),
        ("model m { bolts b : 8 of M12x1.75 }", ("LN101", "M12")),
        ("model m { bolts b : 8 of M20x2.5 }", ("LN101", "M20")),
        ("model m { bolts b : 8 of M100 }", ("LN101", "")),
        ("model m { bolts b : 8 of 3/8-18-UNC }", ("LN101", "is 3/8-16-UNC or 3/8-24-UNF meant?")),
        (
            "model m { bolts b : 8 of 1-1/8-8-UNC }",
            ("LN101", "is 1-1/8-7-UNC or 1-1/8-12-UNF meant?"),
        ),
        ("model m { bolts b : 8 of M8 class 8.9 }", ("LN101", "is 8.8 or 9.8 meant?")),
        ("model m { bolts b : 8 of M8 class 88 }", ("LN101", "8.8")),
        ("model m { bolts b : 8 of M8 class grade5 }", ("LN101", "grade-5")),
        ("model m { bolts b : 8 of M8 oilled }", ("LN101", "oiled")),
        ("model m { state a : live, dead\n safe to leave when a is ded }", ("LN109", "dead")),
        (
            "model m { state brake : on-it, off\n safe to leave when brak is off }",
            ("LN101", "brake"),
        ),
        ("model m { part a\n danger \"D.\" at b }", ("LN101", "a")),
        ("model m { shaft s\n never trun s because \"r\" }", ("LN101", "turn")),
        (
            "model m { fluid oil : 5 L of gear-oil }\nconsumable gear-oil-2 { fills }",
            ("LN101", "gear-oil-2"),
        ),
    ];
    for (text, (code, near)) in cases {
        let found = nearest(text);
        assert_eq!(found.0, code, "{text}");
        if near.len() > 2 {
            assert_eq!(found.1, near, "{text}");
        }
    }
}

#[test]
fn things_that_cannot_go_together_are_told() {
    let cases = [
        ("model m { state s : x, y\n part p : behind s }", "LN105"),
        ("model m { part p\n connector c : carries p }", "LN105"),
        ("model m { shaft s\n part p : behind s }", "LN105"),
        ("model m { fluid f\n bolts b : fastens f }", "LN105"),
        ("model m { part a : behind b\n part b : behind a }", "LN103"),
        ("model m { part a : behind a }", "LN103"),
        ("model m { part a : behind b\n bolts b : fastens a }", "LN103"),
        ("model m { bolts b : 0 of M8 }", "LN204"),
        ("model m { bolts b : 8 of M8, tightened to 22 mm }", "LN202"),
        ("model m { part p : sealed }", "LN111"),
        ("model m { state s : x, y\n never s is y unless s is x }", "LN111"),
        ("model m { state s : x, y\n never s is x because \"r\" }", "LN108"),
        ("model m { state s : x }", "LN110"),
        ("model m { series A\n state s : x, y\n safe to leave when series A }", "LN113"),
        ("model m { part p : normally gone }", "LN109"),
        ("model m { state brake : on, off }", "LN106"),
        ("model m { state brake }", "LN111"),
        ("model m { lock l }", "LN111"),
        ("model m { state supply : live, isolated\n connector c : carries supply }", "LN111"),
        ("model m { shaft s\n never turn s 2 turns because \"r\" }", "LN104"),
        ("model m { bolts b : 8 of M8\n never each fastens is out because \"r\" }", "LN113"),
        ("model m { lock l : bars supply at isolated }", "LN101"),
        ("model m { state supply : live, isolated\n lock l : bars supply at isolatd }", "LN109"),
    ];
    for (text, code) in cases {
        let (_, reports) = library(text);
        let found: Vec<&str> = reports.iter().map(|report| report.code).collect();
        assert_eq!(found, [code], "{text}\n{}", told(&reports));
    }
}

#[test]
fn what_a_broken_line_leads_to_stays_quiet() {
    let text = "model m { pert cover\n part belt : behind cover\n never cover is removed because \"r\"\n danger \"D.\" at cover }";
    assert_eq!(codes(text), ["LN101"]);
}

#[test]
fn a_model_has_a_stated_size() {
    let mut text = "model m {\n".to_owned();
    for number in 0..2_100 {
        writeln!(text, "  part p{number}").unwrap();
    }
    assert_eq!(codes(&(text + "}")), ["LN114"]);
}

#[test]
fn a_long_row_of_things_behind_each_other_is_quick() {
    let mut text = "model m {\n  part p0\n".to_owned();
    for number in 1..1_500 {
        writeln!(text, "  part p{number} : behind p{}", number - 1).unwrap();
    }
    let (world, model) = model(&(text + "}"));
    assert_eq!(world.related(&model, "p1499", "behind").len(), 1_499);
}
