//! The engine against brute force, on graphs that nobody wrote.
//!
//! The explorer here was written apart from the engine: it watches everything, slices nothing, and tries
//! every order of freed children. Only the rule of control ([`Marking`]) is shared. `LOCKNUT_ORACLE_CASES`
//! says how many graphs (5,000 unless told).

#![expect(
    clippy::panic,
    clippy::wildcard_enum_match_arm,
    clippy::format_push_string,
    reason = "a test that says what it met"
)]
#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test")]
#![expect(clippy::disallowed_methods, reason = "a test may be told how long to go on")]

mod brute;
mod build;

use locknut_graph::{Condition, Effect, NodeId, NodeKind, StepGraph, Test, VariableId, Way};
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

/// What fails, by duty: the nodes where it does.
type Failing = BTreeMap<String, BTreeSet<Option<usize>>>;

fn engine(graph: &StepGraph) -> Failing {
    gathered(locknut_proof::failed(graph))
}

/// The same with every state drawn and none listed.
fn diagram(graph: &StepGraph) -> Failing {
    let all = locknut_proof::failed_drawn(graph);
    gathered(all.unwrap_or_else(|| panic!("too much for a diagram\n{}", brute::told(graph))))
}

fn gathered((failed, alike): locknut_proof::AllFailed) -> Failing {
    let mut failing = Failing::new();
    for (duty, node) in failed
        .into_iter()
        .map(|(duty, node, _)| (duty, node))
        .chain(alike.into_iter().map(|(duty, node)| (duty, Some(node))))
    {
        failing.entry(duty).or_default().insert(node.map(NodeId::index));
    }
    failing
}

/// None where they agree, on the verdict and on every place.
fn disagreement(engine: &Failing, brute: &Failing) -> Option<String> {
    let duties: BTreeSet<&String> = engine.keys().chain(brute.keys()).collect();
    for duty in duties {
        let (e, b) = (
            engine.get(duty).cloned().unwrap_or_default(),
            brute.get(duty).cloned().unwrap_or_default(),
        );
        if e != b {
            return Some(format!("{duty}: the engine says {e:?}, brute force {b:?}"));
        }
    }
    None
}

/// Of so many graphs one is drawn, too: that takes longer than to list it.
const DRAWN: u64 = 4;

fn cases() -> u64 {
    std::env::var("LOCKNUT_ORACLE_CASES").ok().and_then(|text| text.parse().ok()).unwrap_or(5_000)
}

#[test]
fn the_engine_agrees_with_brute_force() {
    let (mut faulty, mut freed, mut repeats, mut together, mut readings) = (0, 0, 0, 0, 0);
    let mut too_large = 0;
    for seed in 1..=cases() {
        let graph = build::graph(seed);
        let Some(brute) = brute::failing(&graph) else {
            too_large += 1;
            continue;
        };
        if let Some(what) = disagreement(&engine(&graph), &brute) {
            panic!("seed {seed}: {what}\n{}", brute::told(&graph));
        }
        if seed.is_multiple_of(DRAWN)
            && let Some(what) = disagreement(&diagram(&graph), &brute)
        {
            panic!("seed {seed}, drawn: {what}\n{}", brute::told(&graph));
        }
        faulty += u64::from(!brute.is_empty());
        freed += u64::from(
            graph.flow.node_weights().any(|node| matches!(node.kind, NodeKind::AnyOrder { .. })),
        );
        repeats += u64::from(!graph.repeats.is_empty());
        let has = |what: fn(&NodeKind) -> bool| {
            u64::from(graph.flow.node_weights().any(|node| what(&node.kind)))
        };
        together += has(|kind| matches!(kind, NodeKind::Together { .. }));
        readings += has(|kind| {
            let NodeKind::Branch(condition) = kind else { return false };
            condition.tests().iter().any(|test| test.variable().is_none())
        });
    }
    println!(
        "{} graphs: {faulty} with faults, {freed} with freed blocks, {repeats} with repeats, \
         {together} with people side by side, {readings} that ask for a reading again, {too_large} \
         too large to try",
        cases()
    );
    assert!(faulty * 10 > cases() && faulty < cases(), "{faulty} faulty graphs say little");
    assert!(freed * 6 > cases() && repeats * 20 > cases(), "{freed} freed, {repeats} with repeats");
    // What is left out is named above; of the rest enough is tried.
    assert!(too_large * 4 < cases(), "{too_large} too large");
    assert!(together * 6 > cases() && readings * 50 > cases(), "{together}, {readings}");
}

/// Whatever fails on some clock is found: time may pass anywhere, and nobody says for how long.
#[test]
fn nothing_that_time_breaks_is_missed() {
    let (mut timed, mut tried) = (0, 0);
    for seed in 1..=cases() / 8 {
        let graph = build::graph(seed);
        let held = |condition: &Cow<'_, Condition>| {
            condition.tests().iter().any(|test| matches!(test, Test::Held { .. }))
        };
        if !graph.conditions().iter().any(held) {
            continue;
        }
        timed += 1;
        let Some(late) = brute::failing_late(&graph) else { continue };
        tried += 1;
        let engine = engine(&graph);
        for (duty, nodes) in late {
            let found = engine.get(&duty).cloned().unwrap_or_default();
            // What may be broken later by the clock alone is told where it is first uncertain.
            let anywhere = duty.starts_with("interlock") && !found.is_empty();
            let missed = nodes.difference(&found).filter(|_| !anywhere).collect::<Vec<_>>();
            assert!(
                missed.is_empty(),
                "seed {seed}: {duty} at {missed:?}\n{}",
                brute::told(&graph)
            );
        }
    }
    assert!(timed * 32 > cases() && tried * 2 > timed, "{timed} with times, {tried} tried");
}

/// Each path is a way that the job can go, and ends where the duty fails.
#[test]
fn each_path_can_be_gone() {
    for seed in 1..=cases() / 4 {
        let graph = build::graph(seed);
        if brute::failing(&graph).is_none() {
            continue;
        }
        let mut told = locknut_proof::failed(&graph).0;
        if seed.is_multiple_of(DRAWN) {
            let drawn = locknut_proof::failed_drawn(&graph).unwrap().0;
            let other: Vec<_> = drawn.into_iter().filter(|one| !told.contains(one)).collect();
            told.extend(other);
        }
        for (duty, node, trail) in told {
            let length = brute::replay(&graph, &duty, node, &trail).unwrap_or_else(|why| {
                panic!("seed {seed}, {duty}: {why}\n{}", brute::told(&graph))
            });
            assert_eq!(
                length,
                brute::shortest(&graph, &duty, node),
                "seed {seed}, {duty}: not the shortest"
            );
        }
    }
}

/// What the sheet says of each node: whether it is reached, and how the machine is left at each end.
#[test]
fn facts_agree_with_brute_force() {
    for seed in 1..=cases() / 2 {
        let graph = build::graph(seed);
        let Some((mut reached, left)) = brute::stands(&graph) else { continue };
        let (units, wanted) = (locknut_quantity::Units::default(), locknut_proof::Wanted::Outputs);
        let facts = locknut_proof::prove(&graph, &units, wanted).facts;
        if seed.is_multiple_of(DRAWN) {
            let drawn = locknut_proof::prove_drawn(&graph, &units, wanted).facts;
            let told = brute::told(&graph);
            assert_eq!(drawn.hazards, facts.hazards, "seed {seed}\n{told}");
            assert_eq!(drawn.standing, facts.standing, "seed {seed}\n{told}");
            assert_eq!(drawn.do_not_leave, facts.do_not_leave, "seed {seed}\n{told}");
            assert_eq!(drawn.reached, facts.reached, "seed {seed}\n{told}");
            assert_eq!(drawn.left_at, facts.left_at, "seed {seed}\n{told}");
        }
        // The ends of children and lanes are passed, and count as reached.
        let passed = |node: &NodeId| graph.node(*node).kind.back_to().is_some();
        reached.retain(|node| !passed(node));
        let of_engine: BTreeSet<NodeId> =
            facts.reached.into_iter().filter(|node| !passed(node)).collect();
        assert_eq!(of_engine, reached, "seed {seed}\n{}", brute::told(&graph));
        assert_eq!(facts.left_at, left, "seed {seed}\n{}", brute::told(&graph));
    }
}

/// An engine that misses a writer is found out: the graph it is given lacks one.
#[test]
fn an_engine_made_wrong_is_noticed() {
    let mut noticed = 0;
    for seed in 1..=500 {
        let graph = build::graph(seed);
        let mut wrong = graph.clone();
        let writer = wrong.flow.node_indices().find(|id| {
            wrong.flow[*id].effects.iter().any(|effect| matches!(effect, Effect::Set { .. }))
        });
        let Some(writer) = writer else { continue };
        wrong.flow[writer].effects.retain(|effect| !matches!(effect, Effect::Set { .. }));
        noticed += usize::from(brute::failing(&graph).is_some_and(|brute| brute != engine(&wrong)));
    }
    assert!(noticed > 100, "only {noticed} of 500 wrong engines were noticed");
}

/// Where somebody may stand, and how the machine is left at each end.
type Stands = (BTreeSet<NodeId>, BTreeMap<NodeId, BTreeMap<VariableId, BTreeSet<u8>>>);
/// Names used by both modules.
pub(crate) type Values = BTreeMap<VariableId, u8>;
/// A way of a job: nodes with the way taken.
pub(crate) type Trail = [(NodeId, Way)];
