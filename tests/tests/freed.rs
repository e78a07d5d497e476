//! Many freed steps, each on a thing of its own and no two alike: nothing of what the sheet says may be
//! missing because there are more orders than could be tried one by one.

use locknut_graph::{End, NodeKind};
use locknut_library::check_in_memory;
use std::collections::BTreeMap;

/// 2^24 sets of finished steps: no walk that keeps them apart comes to an end.
const FREED: usize = 24;

/// Of unequal length, so that none stands for another.
fn step(flap: usize) -> String {
    let more: Vec<String> = (0..flap % 5).map(|at| format!("confirm \"Look {at}.\"")).collect();
    format!(
        "step \"Flap {flap}.\" {{
           remove flap-{flap}
           {}
           observe crack-{flap} \"Is it cracked?\" {{
             no  -> go on
             yes -> stop \"Tag it.\"
           }}
           fit flap-{flap}
         }}",
        more.join("\n")
    )
}

fn library() -> BTreeMap<String, String> {
    let flaps: Vec<String> = (0..FREED).map(|flap| format!("part flap-{flap}")).collect();
    let steps: Vec<String> = (0..FREED).map(step).collect();
    let (flaps, steps) = (flaps.join("\n"), steps.join("\n"));
    let text = format!(
        "model box {{ title \"Box\"\n state lid : shut, open\n {flaps}\n safe to leave when lid is open }}
         procedure flaps on box {{ title \"Flaps\"
           step \"Open.\" {{ set lid to open }}
           any order {{ {steps} }}
           step \"Shut.\" {{ set lid to shut }}
         }}"
    );
    [
        ("library.yaml".to_owned(), "publisher: Kestmoor\n".to_owned()),
        ("flaps.lkn".to_owned(), text),
    ]
    .into()
}

#[test]
fn every_stop_says_how_the_machine_is_left() {
    let checked = check_in_memory(&library());
    let titles: Vec<&String> = checked.reports.iter().map(|report| &report.title).collect();
    assert!(titles.is_empty(), "{titles:?}");
    let compiled = checked.procedure("flaps");
    assert!(compiled.is_some(), "it is compiled");
    let Some(compiled) = compiled else { return };
    let ends = compiled.graph.flow.node_indices();
    let stops = ends
        .filter(|node| matches!(compiled.graph.node(*node).kind, NodeKind::End(End::Stop { .. })));
    let mut count = 0;
    for stop in stops {
        let left = compiled.facts.left_at.get(&stop).cloned().unwrap_or_default();
        let names: Vec<&str> = left
            .keys()
            .map(|variable| compiled.graph.variable(*variable).words.name.as_str())
            .collect();
        // The lid, and the one flap that is off: the others are in place, done or not.
        assert_eq!(names, ["lid", &format!("flap-{count}")], "at stop {count}");
        count += 1;
    }
    assert_eq!(count, FREED);
}
