//! The slewing-brake gap of the demo library: the whole way.

use super::{STANDARD, rows, standard_library, text_of, told};
use crate::graph_of;
use crate::world::world_of;
use locknut_graph::{Act, Effect, Marking, StepGraph, Way};
use std::path::Path;

/// The graph of a procedure of the demo library.
fn demo(name: &str) -> StepGraph {
    let (mut sources, mut trees) = STANDARD.get_or_init(standard_library).clone();
    let mut paths = Vec::new();
    super::gather(&Path::new(env!("CARGO_MANIFEST_DIR")).join("../../procedures"), &mut paths);
    paths.sort();
    for path in paths {
        let text = text_of(&path);
        let file = sources.add(path.display().to_string(), text.clone());
        trees.push((file, locknut_syntax::parse(file, &text).0));
    }
    let (world, _) = world_of(&trees, &sources);
    let (graph, found) = graph_of(&world, name, "Kestmoor");
    assert!(!found.has_errors(), "{}", told(found.reports()));
    graph.expect("a graph")
}

/// Takes a way at each node that has several; what the machine is left as.
fn walk(graph: &StepGraph, mut choose: impl FnMut(&Act) -> Way) -> (Vec<u8>, String) {
    let mut values: Vec<u8> = graph.variables.iter().map(|variable| variable.normal).collect();
    let mut at = Marking::start(graph);
    for _ in 0..10_000 {
        let ways = at.ways(graph);
        let way = match ways.as_slice() {
            [] => {
                return (values, rows::rows(graph).lines().nth(at.at.index()).unwrap().to_owned());
            }
            [only] => *only,
            several => {
                let wanted = choose(graph.node(at.at).act().expect("an act"));
                *several.iter().find(|way| **way == wanted).unwrap_or(&several[0])
            }
        };
        let (edge, _) = graph.follow(at.at, way).expect("a way");
        for effect in graph.node(at.at).effects.iter().chain(&edge.effects) {
            if let Effect::Set { variable, value } = effect {
                values[usize::from(variable.0)] = *value;
            }
        }
        at = at.take(graph, way).expect("a way");
    }
    panic!("no end within ten thousand nodes");
}

#[test]
fn the_plain_way_ends_done_with_everything_put_back() {
    let graph = demo("slew-brake-gap");
    let (values, end) = walk(&graph, |act| {
        let armed = act.kind.verdict().is_some_and(|verdict| !verdict.arms().is_empty());
        if armed { Way::Arm(0) } else { Way::Accepted }
    });
    assert!(end.ends_with("done"), "{end}");
    for owed in &graph.restore {
        let variable = graph.variable(owed.variable);
        assert!(
            owed.values.contains(&values[usize::from(owed.variable.0)]),
            "{}",
            variable.words.said
        );
    }
}

#[test]
fn a_gap_that_stays_wrong_is_aligned_twice_and_then_referred() {
    let graph = demo("slew-brake-gap");
    let mut rounds = 0;
    let (_, end) = walk(&graph, |act| {
        if act.line.phrase != "act-check" {
            return Way::Accepted;
        }
        rounds += 1;
        Way::Otherwise
    });
    assert_eq!(rounds, 3, "the first time and two repeats");
    assert!(end.contains("refer “Technical support”"), "{end}");
}

#[test]
fn its_steps_are_numbered_as_they_are_printed() {
    let graph = demo("slew-brake-gap");
    let numbers: Vec<&str> = graph.steps.iter().map(|step| step.number.as_str()).collect();
    let wanted = ["1", "2", "3", "4", "5", "6", "6a.1", "6a.2", "6a.3", "7", "8", "9", "10", "11"];
    assert_eq!(numbers, wanted);
}

#[test]
fn its_lists_are_derived() {
    let graph = demo("slew-brake-gap");
    let names = |all: Vec<&locknut_graph::Words>| -> Vec<String> {
        all.into_iter().map(|words| words.name.clone()).collect()
    };
    let instruments = names(graph.instruments.iter().map(|one| &one.words).collect());
    assert_eq!(instruments, ["volt-tester", "feeler-gauge", "torque-wrench"]);
    assert_eq!(names(graph.tools.iter().map(|one| &one.words).collect()), ["calliper-peg"]);
    assert_eq!(names(graph.materials.iter().map(|one| &one.words).collect()), ["shim-kit"]);
}
