//! What the proof alone costs on four systems that are hard to go through one by one, for `tests/run bench`:
//! one JSON object of milliseconds, and for freed steps a curve.

#![expect(clippy::print_stdout, reason = "a tool for the terminal")]

use locknut_library::check_in_memory;
use serde_json::json;
use std::collections::BTreeMap;
use std::fmt::Write;
use std::time::Instant;

/// Each is proved so often; the median counts.
const ROUNDS: usize = 51;

fn main() {
    let curve: Vec<_> = [50, 100, 200, 400, 1000]
        .into_iter()
        .map(|steps| json!({ "steps": steps, "ms": rounded(freed(steps)) }))
        .collect();
    println!(
        "{}",
        json!({
            "proof_freed_200_ms": rounded(freed(200)),
            "proof_together_30_30_ms": rounded(together(30)),
            "proof_linear_100_ms": rounded(linear(100)),
            "proof_readings_40_ms": rounded(readings(40)),
            "proof_freed_curve": curve,
        })
    );
}

fn rounded(milliseconds: f64) -> f64 {
    (milliseconds * 1000.0).round() / 1000.0
}

/// The median time of a proof, in milliseconds; what is proved must hold.
fn proved(model: &str, body: &str) -> f64 {
    let source = format!(
        "model rig {{\n  title \"Rig\"\n{model}}}\nprocedure job on rig {{\n  title \"Job\"\n  crew a, b\n{body}}}\n"
    );
    let checked = check_in_memory(&BTreeMap::from([("job.lkn".to_owned(), source)]));
    let titles: Vec<&str> = checked.reports.iter().map(|report| report.title.as_str()).collect();
    assert!(!checked.has_errors(), "{titles:?}");
    let graph = checked.procedures.first().map(|procedure| &procedure.graph);
    let mut times: Vec<f64> = (0..ROUNDS)
        .map(|_| {
            let begin = Instant::now();
            let found = graph.map(locknut_proof::judge);
            let taken = begin.elapsed().as_secs_f64() * 1000.0;
            assert!(found.is_some_and(|found| !found.has_errors()), "it must hold");
            taken
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times.get(ROUNDS / 2).copied().unwrap_or_default()
}

fn states(count: usize) -> String {
    (0..count).fold(String::new(), |mut text, at| {
        let _ = writeln!(text, "  state s{at} : off, lit");
        text
    })
}

/// Freed steps, half of them asking for what the other half may have changed.
fn freed(steps: usize) -> f64 {
    let mut body = "  any order {\n".to_owned();
    for at in 0..steps / 2 {
        let _ = writeln!(
            body,
            "    step \"Flash {at}.\" {{\n set s{at} to lit\n set s{at} to off\n }}"
        );
        let _ = writeln!(body, "    step \"Look {at}.\" needs s{at} is off {{ confirm \"dark\" }}");
    }
    body.push_str("  }\n");
    proved(&states(steps / 2), &body)
}

/// Two people side by side, each with so many acts on a state of their own, and a rule on both states.
fn together(acts: usize) -> f64 {
    let model = "  state left : low, high, torn\n  state right : low, high, torn\n  \
                 never left is torn and right is torn because \"both are gone\"\n";
    let mut body = "  together {\n".to_owned();
    for (who, state) in [("a", "left"), ("b", "right")] {
        let _ = writeln!(body, "    {who} {{\n step \"Work.\" {{");
        for act in 0..acts {
            let value = if act % 2 == 0 { "high" } else { "low" };
            let _ = writeln!(body, "      set {state} to {value}");
        }
        body.push_str("    }\n }\n");
    }
    body.push_str("  }\n");
    proved(model, &body)
}

/// Steps in a row, each but two asking for what the second before it has done.
fn linear(steps: usize) -> f64 {
    let mut body = String::new();
    for at in 0..steps {
        let _ = writeln!(body, "  leaves s{at} is lit because \"it is tested later\"");
    }
    for at in 0..steps {
        let needs = at.checked_sub(2).map(|before| format!(" needs s{before} is lit"));
        let needs = needs.unwrap_or_default();
        let _ = writeln!(body, "  step \"Light {at}.\"{needs} {{ set s{at} to lit }}");
    }
    proved(&states(steps), &body)
}

/// Readings with three arms that are all asked about again at the end.
fn readings(count: usize) -> f64 {
    let mut body = String::new();
    for at in 0..count {
        let _ = writeln!(
            body,
            "  observe r{at} \"Which?\" {{\n a -> go on\n b -> go on\n c -> go on\n }}"
        );
    }
    for at in 0..count {
        let _ = writeln!(body, "  when r{at} is a {{ set s{at} to lit }}");
    }
    for at in 0..count {
        let _ = writeln!(
            body,
            "  when r{at} is a {{ step \"Dim.\" needs s{at} is lit {{ set s{at} to off }} }}"
        );
    }
    proved(&states(count), &body)
}
