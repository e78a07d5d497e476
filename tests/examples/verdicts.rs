//! Readings at and around limits with what the compiler and the terminal make of them, for a comparison with the
//! browser: `verdicts COUNT`. What is expected is reckoned here in whole steps of the instrument, apart from both.

#![expect(
    clippy::print_stdout,
    clippy::panic,
    clippy::expect_used,
    clippy::wildcard_enum_match_arm,
    reason = "a tool for the terminal that stops where two runners disagree"
)]

use locknut_graph::{ActKind, Judgement, NodeId, SourcedLimit, StepGraph, Verdict, Way};
use locknut_job::{Answer, Ask, Job, Refused};
use locknut_library::check_in_memory;
use locknut_quantity::{Units, parse_exact};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Readings of each procedure.
const READINGS: usize = 2_000;

/// Numbers that look random and are the same each time (Knuth, *The Art of Computer Programming* 2,
/// 3.3.4, table 1; from memory).
struct Random(u64);

impl Random {
    fn below(&mut self, bound: i64) -> i64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        i64::try_from(self.0 >> 33).unwrap_or(0) % bound.max(1)
    }

    fn one_of<T: Copy>(&mut self, all: &[T]) -> T {
        let at = usize::try_from(self.below(i64::try_from(all.len()).unwrap_or(1))).unwrap_or(0);
        *all.get(at).expect("within")
    }
}

/// A limit in last digits of the instrument.
#[derive(Clone, Copy)]
struct Limit {
    lower: Option<i64>,
    upper: Option<i64>,
    closed: (bool, bool),
}

impl Limit {
    fn contains(self, value: i64, inward: i64) -> bool {
        let above = |end: i64, closed: bool| value > end || (closed && value == end);
        let below = |end: i64, closed: bool| value < end || (closed && value == end);
        self.lower.is_none_or(|lower| above(lower + inward, self.closed.0))
            && self.upper.is_none_or(|upper| below(upper - inward, self.closed.1))
    }

    /// After ISO 14253-1: inside by the error, outside by it, or neither.
    fn expected(self, value: i64, guard: Option<i64>) -> &'static str {
        let error = guard.unwrap_or(0);
        if !self.contains(value, -error) {
            "otherwise"
        } else if self.contains(value, error) {
            "accepted"
        } else {
            "undecided"
        }
    }
}

/// One procedure with one reading.
struct Subject {
    source: String,
    limit: Limit,
    guard: Option<i64>,
    decimals: usize,
    step: i64,
    most: i64,
    error: i64,
}

fn main() {
    let count: usize =
        std::env::args().nth(1).and_then(|count| count.parse().ok()).unwrap_or(100_000);
    let mut random = Random(14);
    let mut all = Vec::new();
    for _ in 0..count.div_ceil(READINGS) {
        all.push(compared(&mut random));
    }
    println!("{}", Value::Array(all));
}

fn compared(random: &mut Random) -> Value {
    let subject = subject(random);
    let files = BTreeMap::from([("one.lkn".to_owned(), subject.source.clone())]);
    let checked = check_in_memory(&files);
    assert!(!checked.has_errors(), "{}\n{:?}", subject.source, checked.reports);
    let one = checked.procedures.first().expect("compiled");
    let units = &checked.world.units;
    let (node, limit, reading) = judged(&one.graph);
    let cases: Vec<Value> = (0..READINGS)
        .map(|_| {
            let value = near_the_limit(random, &subject);
            let text = written(value, subject.decimals);
            let expected = subject.limit.expected(value, subject.guard);
            assert_eq!(
                by_compiler(&text, limit, &one.graph, reading, units),
                expected,
                "{}{text}",
                subject.source
            );
            let typed = if random.below(2) == 0 { text.replace('.', ",") } else { text };
            assert_eq!(
                by_terminal(&one.graph, units, node, &typed),
                expected,
                "{}{typed}",
                subject.source
            );
            json!([typed, expected])
        })
        .collect();
    let document = locknut_data::graph_json(&one.graph, &one.facts, units).expect("a document");
    let document: Value = serde_json::from_str(&document).expect("JSON");
    json!({ "graph": document, "node": node.index(), "cases": cases })
}

fn subject(random: &mut Random) -> Subject {
    let decimals = usize::try_from(random.below(4)).unwrap_or(0);
    let step = random.one_of(&[1, 2, 5]);
    let (kind, unit) = random.one_of(&[
        ("length", "mm"),
        ("length", "inch"),
        ("temperature", "°C"),
        ("temperature", "°F"),
        ("voltage", "V"),
        ("force", "lbf"),
        ("gauge-pressure", "psi"),
    ]);
    let error = step * (1 + random.below(4));
    let lower = step * (20 + random.below(50));
    let upper = lower + 2 * error + step * (3 + random.below(60));
    let most = upper + step * (20 + random.below(50));
    let guard = (random.below(2) == 0).then_some(error);
    let number = |value: i64| written(value, decimals);
    let (low, high) = (number(lower), number(upper));
    let qualifier = if kind == "gauge-pressure" { " gauge" } else { "" };
    let (form, limit) = match random.below(6) {
        0 => (
            format!("at most {high} {unit}{qualifier}"),
            Limit { lower: None, upper: Some(upper), closed: (true, true) },
        ),
        1 => (
            format!("at least {low} {unit}{qualifier}"),
            Limit { lower: Some(lower), upper: None, closed: (true, true) },
        ),
        2 => (
            format!("under {high} {unit}{qualifier}"),
            Limit { lower: None, upper: Some(upper), closed: (true, false) },
        ),
        3 => (
            format!("over {low} {unit}{qualifier}"),
            Limit { lower: Some(lower), upper: None, closed: (false, true) },
        ),
        4 => (
            format!("over {low} to {high} {unit}{qualifier}"),
            Limit { lower: Some(lower), upper: Some(upper), closed: (false, true) },
        ),
        _ => (
            format!("{low} .. {high} {unit}{qualifier}"),
            Limit { lower: Some(lower), upper: Some(upper), closed: (true, true) },
        ),
    };
    let how = if guard.is_some() { "guarded" } else { "as read" };
    let (step_said, most_said, error_said) = (number(step), number(most), number(error));
    let source = format!(
        "instrument gauge {{ measures {kind} 0 .. {most_said} {unit}, resolution {step_said} {unit}, error {error_said} {unit} }}
model bench {{
  title \"Bench\"
  part lid
}}
procedure judge-it on bench {{
  title \"Judge it\"
  step \"Read it.\" {{
    measure value using gauge {{
      accept {form} {how}
      otherwise go on
    }}
  }}
}}
"
    );
    Subject { source, limit, guard, decimals, step, most, error }
}

/// The act that judges, its limit, and the reading that it takes.
fn judged(graph: &StepGraph) -> (NodeId, &SourcedLimit, locknut_graph::ReadingId) {
    let found = graph.flow.node_indices().find_map(|node| match &graph.node(node).act()?.kind {
        ActKind::Measure { reading, verdict: Verdict::Accept { limit, .. }, .. } => {
            Some((node, limit, *reading))
        }
        _ => None,
    });
    found.expect("one reading is judged")
}

/// Half of them about the ends and where a guard would lie, the others anywhere.
fn near_the_limit(random: &mut Random, subject: &Subject) -> i64 {
    let Subject { limit, step, most, error, .. } = subject;
    let ends: Vec<i64> = limit.lower.iter().chain(&limit.upper).copied().collect();
    let value = if random.below(8) == 0 {
        step * random.below(most / step + 1)
    } else {
        random.one_of(&ends) + random.one_of(&[-error, 0, *error]) + step * (random.below(7) - 3)
    };
    value.clamp(0, *most / step * step)
}

fn written(value: i64, decimals: usize) -> String {
    let digits = format!("{value:0>width$}", width = decimals + 1);
    let (whole, part) = digits.split_at(digits.len() - decimals);
    if part.is_empty() { whole.to_owned() } else { format!("{whole}.{part}") }
}

fn by_compiler(
    text: &str,
    limit: &SourcedLimit,
    graph: &StepGraph,
    reading: locknut_graph::ReadingId,
    units: &Units,
) -> &'static str {
    let locknut_graph::ReadingKind::Quantity { unit, .. } = graph.reading(reading).kind else {
        return "no number";
    };
    let unit = units.unit(unit);
    let value = parse_exact(text).expect("a number") * &unit.factor + &unit.zero;
    match locknut_graph::judge(&limit.limit.range, limit.guard.as_ref(), &[value]) {
        Judgement::Accepted => "accepted",
        Judgement::Refused => "otherwise",
        Judgement::Undecided => "undecided",
    }
}

fn by_terminal(graph: &StepGraph, units: &Units, node: NodeId, text: &str) -> &'static str {
    let mut job = Job::new(graph, units, "");
    match job.ask() {
        Ask::Numbers { node: asked, .. } if asked == node => {}
        other => panic!("another thing is asked first: {other:?}"),
    }
    match job.answer(&Answer::Typed(vec![text.to_owned()]), "2026-01-01T00:00:00Z") {
        Ok(told) if told.way == Way::Accepted => "accepted",
        Ok(told) if told.way == Way::Otherwise => "otherwise",
        Err(Refused::Undecided) => "undecided",
        other => panic!("{text}: {other:?}"),
    }
}
