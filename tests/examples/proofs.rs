//! What the proof alone costs on five systems that are hard to go through one by one, for `tests/run bench`:
//! one JSON object of microseconds, and for freed steps a curve. `proofs together` proves one of them alone, for a profiler.

#![expect(clippy::print_stdout, reason = "a tool for the terminal")]

use locknut_library::check_in_memory;
use serde_json::json;
use std::collections::BTreeMap;
use std::time::Instant;

/// Each is proved so often; the median counts.
const ROUNDS: usize = 51;

fn main() {
    if let Some(name) = std::env::args().nth(1) {
        let taken = match name.as_str() {
            "freed" => freed(200),
            "together" => together(30),
            "linear" => linear(100),
            "readings" => readings(40),
            "one-dial" => one_dial(30),
            other => {
                println!("{other} is none of freed, together, linear, readings, one-dial");
                return;
            }
        };
        println!("{}", json!({ name: taken }));
        return;
    }
    let curve: Vec<_> = [50, 100, 200, 400, 1000]
        .into_iter()
        .map(|steps| json!({ "steps": steps, "us": freed(steps) }))
        .collect();
    println!(
        "{}",
        json!({
            "proof_freed_200_us": freed(200),
            "proof_together_30_30_us": together(30),
            "proof_linear_100_us": linear(100),
            "proof_readings_40_us": readings(40),
            "proof_one_dial_30_us": one_dial(30),
            "proof_freed_curve": curve,
        })
    );
}

/// The median time of a proof, in microseconds; what is proved must hold.
fn proved(model: &str, body: &str) -> u128 {
    let source = format!(
        "model rig {{\n  title \"Rig\"\n{model}}}\nprocedure job on rig {{\n  title \"Job\"\n  crew a, b\n{body}}}\n"
    );
    let checked = check_in_memory(&BTreeMap::from([("job.lkn".to_owned(), source)]));
    let titles: Vec<&str> = checked.reports.iter().map(|report| report.title.as_str()).collect();
    assert!(!checked.has_errors(), "{titles:?}");
    let graph = checked.procedures.first().map(|procedure| &procedure.graph);
    let mut times: Vec<u128> = (0..ROUNDS)
        .map(|_| {
            let begin = Instant::now();
            let found = graph.map(locknut_proof::judge);
            let taken = begin.elapsed().as_micros();
            assert!(found.is_some_and(|found| !found.has_errors()), "it must hold");
            taken
        })
        .collect();
    times.sort_unstable();
    times.get(ROUNDS / 2).copied().unwrap_or_default()
}

fn states(count: usize) -> String {
    lines((0..count).map(|at| format!("  state s{at} : off, lit")))
}

fn lines(all: impl IntoIterator<Item = String>) -> String {
    let mut all: Vec<String> = all.into_iter().collect();
    all.push(String::new());
    all.join("\n")
}

/// Freed steps, half of them asking for what the other half may have changed.
fn freed(steps: usize) -> u128 {
    let pair = |at| {
        format!(
            "step \"Flash {at}.\" {{\n set s{at} to lit\n set s{at} to off\n }}\n\
             step \"Look {at}.\" needs s{at} is off {{ confirm \"dark\" }}"
        )
    };
    let children = lines((0..steps / 2).map(pair));
    proved(&states(steps / 2), &format!("any order {{\n{children}}}\n"))
}

/// Two people side by side, each with so many acts on a state of their own, and a rule on both states.
fn together(acts: usize) -> u128 {
    let model = "  state left : low, high, torn\n  state right : low, high, torn\n  \
                 never left is torn and right is torn because \"both are gone\"\n";
    let lane = |who: &str, state: &str| {
        let value = |act| if act % 2 == 0 { "high" } else { "low" };
        let sets = lines((0..acts).map(|act| format!("set {state} to {}", value(act))));
        format!("{who} {{\n step \"Work.\" {{\n{sets}}}\n}}\n")
    };
    let body = format!("together {{\n{}{}}}\n", lane("a", "left"), lane("b", "right"));
    proved(model, &body)
}

/// Steps in a row, each but two asking for what the second before it has done.
fn linear(steps: usize) -> u128 {
    let left = |at| format!("  leaves s{at} is lit because \"it is tested later\"");
    let step = |at: usize| {
        let needs = at.checked_sub(2).map(|before| format!(" needs s{before} is lit"));
        format!("  step \"Light {at}.\"{} {{ set s{at} to lit }}", needs.unwrap_or_default())
    };
    let body = lines((0..steps).map(left).chain((0..steps).map(step)));
    proved(&states(steps), &body)
}

/// Freed steps that all turn one dial, no two alike, and one that asks for it: too many to be listed.
fn one_dial(steps: usize) -> u128 {
    let places: Vec<String> = (0..steps).map(|at| format!("at-{at}")).collect();
    let model = format!("  state dial : off, {}\n", places.join(", "));
    let turn = |at| format!("step \"Try {at}.\" {{\n set dial to at-{at}\n set dial to off\n }}");
    let look = "step \"Look.\" needs dial is off { confirm \"quiet\" }".to_owned();
    let children = lines((0..steps).map(turn).chain([look]));
    proved(&model, &format!("any order {{\n{children}}}\n"))
}

/// Readings with three arms that are all asked about again at the end.
fn readings(count: usize) -> u128 {
    let read =
        |at| format!("observe r{at} \"Which?\" {{\n a -> go on\n b -> go on\n c -> go on\n }}");
    let light = |at| format!("when r{at} is a {{ set s{at} to lit }}");
    let dim = |at| {
        format!("when r{at} is a {{ step \"Dim.\" needs s{at} is lit {{ set s{at} to off }} }}")
    };
    let body = (0..count).map(read).chain((0..count).map(light)).chain((0..count).map(dim));
    proved(&states(count), &lines(body))
}
