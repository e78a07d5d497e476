//! Random choices with what compiler, proof and terminal make of every reading, one JSON object a line, for a comparison
//! with the browser and with a solver: `choices COUNT`. What is expected is reckoned here in whole hundredths, stack by
//! stack, apart from all of them.

#![expect(
    clippy::print_stdout,
    clippy::panic,
    clippy::expect_used,
    clippy::wildcard_enum_match_arm,
    reason = "a tool for the terminal that stops where two runners disagree"
)]

mod tables;

use locknut_graph::{ActKind, Choice, NodeId, StepGraph};
use locknut_job::{Answer, Job};
use locknut_library::{Checked, check_in_memory};
use locknut_proof::ChoiceTable;
use locknut_quantity::{Quantity, Units};
use serde_json::{Value, json};
use std::collections::BTreeMap;
pub(crate) use tables::compared_table;

/// Numbers that look random and are the same each time (Knuth, *The Art of Computer Programming* 2,
/// 3.3.4, table 1; from memory).
pub(crate) struct Random(pub(crate) u64);

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

/// What is preferred.
#[derive(Clone, Copy)]
enum Prefer {
    Smallest,
    Largest,
    Fewest,
    Nearest(i64),
}

/// A choice, all in hundredths: `read × gap + chosen × size + fixed` shall lie from `lower` to `upper`.
struct Subject {
    sizes: Vec<i64>,
    most: usize,
    stacked: bool,
    each_once: bool,
    read: i64,
    chosen: i64,
    fixed: i64,
    lower: i64,
    upper: i64,
    prefer: Prefer,
    first: i64,
    last: i64,
    step: i64,
    /// The readings that are usual.
    usual: (i64, i64),
    /// Whether a consumable has the sizes, with part numbers.
    numbered: bool,
}

/// Where the compiler stops a choice.
#[derive(Debug, PartialEq, Eq)]
enum Stops {
    Nowhere,
    /// For these readings nothing fits: `LN313`.
    Gaps(Vec<String>),
    /// For no reading anything fits: `LN315`.
    Never,
}

fn main() {
    let count: usize = std::env::args().nth(1).and_then(|count| count.parse().ok()).unwrap_or(200);
    let mut random = Random(5);
    for _ in 0..count {
        println!("{}", compared(&mut random));
        println!("{}", compared_table(&mut random));
    }
}

/// One choice, compared at every reading.
pub(crate) fn compared(random: &mut Random) -> Value {
    let subject = subject(random);
    let best: Vec<(i64, Option<Vec<i64>>)> =
        subject.readings().map(|gap| (gap, subject.best(gap))).collect();
    stops_where_it_must(&subject, &best);
    let source = subject.source(true, "");
    let checked = check(&source);
    if best.iter().all(|(_, best)| best.is_none()) {
        assert_eq!(codes(&checked), ["LN315"], "{source}");
        return json!({ "choice": subject.described(), "rows": [], "never": true });
    }
    assert!(!checked.has_errors(), "{source}\n{:?}", checked.reports);
    let one = checked.procedures.first().expect("compiled");
    let units = &checked.world.units;
    let (node, choice) = chosen(&one.graph);
    let table = one.facts.choices.get(&node).expect("one reading decides");
    by_proof(&source, choice, table, &best);
    let cases: Vec<Value> = best
        .iter()
        .map(|(gap, best)| {
            let text = written(*gap);
            let wanted: Vec<String> =
                best.iter().flatten().map(|size| subject.piece(*size)).collect();
            assert_eq!(by_terminal(&one.graph, units, &text), wanted, "{source}\nat {text}");
            json!([text, wanted])
        })
        .collect();
    let rows: Vec<Value> = best.iter().map(|(gap, best)| json!([gap, best])).collect();
    json!({
        "choice": subject.described(), "rows": rows, "never": false,
        "graph": document(&checked), "node": node.index(), "cases": cases,
    })
}

fn document(checked: &Checked) -> Value {
    let one = checked.procedures.first().expect("compiled");
    let units = &checked.world.units;
    let document = locknut_data::graph_json(&one.graph, &one.facts, units).expect("a document");
    serde_json::from_str(&document).expect("JSON")
}

fn check(source: &str) -> Checked {
    check_in_memory(&BTreeMap::from([("one.lkn".to_owned(), source.to_owned())]))
}

/// But for sizes that lie far off the others: of sizes at random that is no fault.
fn codes(checked: &Checked) -> Vec<&str> {
    checked.reports.iter().map(|report| report.code).filter(|code| *code != "LN348").collect()
}

/// Without an `otherwise` all that is expected must be covered, with one what is usual; an `otherwise` must have something left.
fn stops_where_it_must(subject: &Subject, best: &[(i64, Option<Vec<i64>>)]) {
    let (from, to) = subject.usual;
    let usually = format!(", usually {} .. {} mm", written(from), written(to));
    for (otherwise, usually) in [(false, ""), (true, usually.as_str())] {
        let must = |gap: i64| !otherwise || (from..=to).contains(&gap);
        let source = subject.source(otherwise, usually);
        let checked = check(&source);
        let wanted = stops(subject, best, &must);
        let said: Vec<String> = checked.reports.iter().map(|report| report.title.clone()).collect();
        match wanted {
            // Where something fits at every reading nobody comes to the `otherwise`.
            Stops::Nowhere if otherwise && best.iter().all(|(_, best)| best.is_some()) => {
                assert_eq!(codes(&checked), ["LN310"], "{source}\n{said:?}");
            }
            Stops::Nowhere => assert_eq!(codes(&checked), [""; 0], "{source}\n{said:?}"),
            Stops::Never => assert_eq!(codes(&checked), ["LN315"], "{source}"),
            Stops::Gaps(gaps) => {
                assert_eq!(codes(&checked), ["LN313"], "{source}\n{said:?}");
                let title = format!("no size fits where gap is {}", listed(&gaps));
                assert_eq!(said, [title], "{source}");
            }
        }
    }
}

fn stops(subject: &Subject, best: &[(i64, Option<Vec<i64>>)], must: &dyn Fn(i64) -> bool) -> Stops {
    if best.iter().all(|(_, best)| best.is_none()) {
        return Stops::Never;
    }
    let mut gaps: Vec<Vec<i64>> = Vec::new();
    for gap in best.iter().filter(|(gap, best)| best.is_none() && must(*gap)).map(|(gap, _)| *gap) {
        match gaps.last_mut() {
            Some(run) if run.last() == Some(&(gap - subject.step)) => run.push(gap),
            _ => gaps.push(vec![gap]),
        }
    }
    if gaps.is_empty() {
        Stops::Nowhere
    } else {
        Stops::Gaps(gaps.iter().map(|run| told(run, subject.step)).collect())
    }
}

/// Up to five readings are named one by one, as the gauge shows them.
fn told(run: &[i64], step: i64) -> String {
    let shown = |gap: &i64| {
        let written = written(*gap);
        written.strip_suffix('0').filter(|_| step % 10 == 0).unwrap_or(&written).to_owned()
    };
    match run {
        [first, .., last] if run.len() > 5 => format!("{} .. {} mm", shown(first), shown(last)),
        _ => run.iter().map(|gap| format!("{} mm", shown(gap))).collect::<Vec<_>>().join(", "),
    }
}

fn listed(gaps: &[String]) -> String {
    match gaps {
        [first @ .., last] if !first.is_empty() => format!("{} and {last}", first.join(", ")),
        _ => gaps.concat(),
    }
}

fn chosen(graph: &StepGraph) -> (NodeId, &Choice) {
    let found = graph.flow.node_indices().find_map(|node| match &graph.node(node).act()?.kind {
        ActKind::Choose(choice) => Some((node, choice)),
        _ => None,
    });
    found.expect("a choice")
}

/// The look-up rows say at each reading what was reckoned.
fn by_proof(source: &str, choice: &Choice, table: &ChoiceTable, best: &[(i64, Option<Vec<i64>>)]) {
    let hundredths = |quantity: &Quantity| -> i64 {
        // Lengths are kept in metres.
        let value = &quantity.value * locknut_quantity::Exact::from_integer(100_000.into());
        value.to_integer().try_into().expect("small")
    };
    let mut rows = table.rows.iter();
    let mut row = rows.next();
    for (gap, wanted) in best {
        while row.is_some_and(|row| hundredths(&row.to) < *gap) {
            row = rows.next();
        }
        let row = row.unwrap_or_else(|| panic!("{source}\nno row for {gap}"));
        assert!(hundredths(&row.from) <= *gap, "{source}\nno row for {gap}");
        let pieces = row.member.and_then(|member| choice.set.get(member)).map(|member| {
            let sizes = member.pieces.iter().filter_map(|at| choice.sizes.get(*at));
            sizes.map(|(size, _)| hundredths(size)).collect::<Vec<i64>>()
        });
        assert_eq!(&pieces, wanted, "{source}\nat {gap}");
    }
    for (one, next) in table.rows.iter().zip(table.rows.iter().skip(1)) {
        assert_ne!(one.member, next.member, "{source}\ntwo rows for one");
    }
}

/// The pieces that the record of the terminal names.
fn by_terminal(graph: &StepGraph, units: &Units, text: &str) -> Vec<String> {
    let mut job = Job::new(graph, units, "");
    let at = "2026-01-01T00:00:00Z";
    let read = job.answer(&Answer::Typed(vec![text.to_owned()]), at);
    assert!(read.is_ok(), "{text}: {read:?}");
    let worked = job.answer(&Answer::Done, at);
    assert!(worked.is_ok(), "{text}: {worked:?}");
    let entry = job.record().entries.iter().find(|entry| entry.what == "chosen").expect("chosen");
    let piece = |value: &locknut_job::ValueEntry| format!("{} {}", value.text, value.unit);
    entry.values.iter().map(|value| piece(value).trim_end().to_owned()).collect()
}

impl Subject {
    fn readings(&self) -> impl Iterator<Item = i64> {
        let step = usize::try_from(self.step).unwrap_or(1);
        (self.first..=self.last).step_by(step)
    }

    /// The pieces that are taken, by trying every stack there is.
    fn best(&self, gap: i64) -> Option<Vec<i64>> {
        let mut best: Option<([i64; 3], Vec<i64>)> = None;
        for pieces in self.stacks() {
            let sum: i64 = pieces.iter().sum();
            let result = self.read * gap + self.chosen * sum + self.fixed;
            if !(self.lower..=self.upper).contains(&result) {
                continue;
            }
            let count = i64::try_from(pieces.len()).unwrap_or(0);
            let rank = match self.prefer {
                Prefer::Smallest => sum,
                Prefer::Largest => -sum,
                Prefer::Fewest => count,
                Prefer::Nearest(to) => (result - to).abs(),
            };
            // A tie takes the smaller sum; of one sum the fewest pieces, and then the greatest first.
            let rank = [rank, sum, count];
            let better = |(known, with): &([i64; 3], Vec<i64>)| {
                rank < *known || (rank == *known && pieces > *with)
            };
            if best.as_ref().is_none_or(better) {
                best = Some((rank, pieces));
            }
        }
        best.map(|(_, pieces)| pieces)
    }

    /// A piece as the record says it.
    fn piece(&self, size: i64) -> String {
        let number = if self.numbered { format!(" S-{size}") } else { String::new() };
        format!("{} mm{number}", written(size))
    }

    /// Every stack, its pieces from the greatest down.
    fn stacks(&self) -> Vec<Vec<i64>> {
        let mut all: Vec<Vec<i64>> = Vec::new();
        let mut left: Vec<Vec<i64>> = self.sizes.iter().map(|size| vec![*size]).collect();
        while let Some(pieces) = left.pop() {
            let last = pieces.last().copied().unwrap_or(0);
            if pieces.len() < self.most {
                let further =
                    self.sizes.iter().filter(|size| **size < last + i64::from(!self.each_once));
                left.extend(further.map(|size| [pieces.as_slice(), &[*size]].concat()));
            }
            all.push(pieces);
        }
        all
    }

    fn described(&self) -> Value {
        let (prefer, to) = match self.prefer {
            Prefer::Smallest => ("smallest", 0),
            Prefer::Largest => ("largest", 0),
            Prefer::Fewest => ("fewest", 0),
            Prefer::Nearest(to) => ("nearest", to),
        };
        json!({
            "sizes": self.sizes, "most": self.most, "each_once": self.each_once,
            "read": self.read, "chosen": self.chosen, "fixed": self.fixed,
            "lower": self.lower, "upper": self.upper, "prefer": prefer, "to": to,
            "first": self.first, "last": self.last, "step": self.step,
        })
    }

    fn source(&self, otherwise: bool, usually: &str) -> String {
        let (stock, sizes) = stock(&self.sizes, self.numbered);
        let up_to = if self.stacked { format!("up to {} of ", self.most) } else { String::new() };
        let each = if self.each_once { " each once" } else { "" };
        let prefer = match self.prefer {
            Prefer::Smallest => "smallest".to_owned(),
            Prefer::Largest => "largest".to_owned(),
            Prefer::Fewest => "fewest".to_owned(),
            Prefer::Nearest(to) => format!("nearest {} mm", written(to)),
        };
        let (read, chosen) = (self.read, self.chosen);
        let otherwise = if otherwise { " otherwise refer to \"The workshop\"" } else { "" };
        format!(
            "instrument gauge {{ measures length 0 .. 100 mm, resolution {step} mm, error 0.05 mm }}
{stock}
model bench {{
  title \"Bench\"
}}
procedure choose-it on bench {{
  title \"Choose it\"
  step \"Choose it.\" {{
    measure gap using gauge, expect {first} .. {last} mm{usually}
    choose {up_to}size from {sizes}{each}
      so that rest is {lower} .. {upper} mm, where rest = {read} * gap + {chosen} * size + {fixed} mm, prefer {prefer}{otherwise}
  }}
}}
",
            step = written(self.step),
            first = written(self.first),
            last = written(self.last),
            lower = written(self.lower),
            upper = written(self.upper),
            fixed = written(self.fixed),
        )
    }
}

/// What declares the sizes, and what a choice takes them from.
fn stock(sizes: &[i64], numbered: bool) -> (String, String) {
    let all: Vec<String> = sizes.iter().map(|size| written(*size)).collect();
    if !numbered {
        return (String::new(), format!("{} mm", all.join(", ")));
    }
    let numbered = sizes.iter().map(|size| format!("{} mm \"S-{size}\"", written(*size)));
    let numbered: Vec<String> = numbered.collect();
    (format!("consumable spacers {{ sizes {} }}", numbered.join(", ")), "spacers".to_owned())
}

fn subject(random: &mut Random) -> Subject {
    let step = random.one_of(&[1, 2, 5, 10]);
    let stacked = random.below(3) > 0;
    let most = if stacked { usize::try_from(1 + random.below(4)).unwrap_or(1) } else { 1 };
    let mut sizes: Vec<i64> = (0..=random.below(5)).map(|_| 5 * (1 + random.below(30))).collect();
    sizes.sort_unstable();
    sizes.dedup();
    let first = step * (1 + random.below(100 / step));
    let last = first + step * (1 + random.below(40));
    let from = first + step * random.below((last - first) / step + 1);
    let to = from + step * random.below((last - from) / step + 1);
    let read = random.one_of(&[1, 1, 1, -1, 2, -3]);
    let chosen = random.one_of(&[-1, -1, -1, 1, 2, -2]);
    // So that something fits somewhere, as a rule.
    let middle = read * random.one_of(&[first, last]) + chosen * random.one_of(&sizes);
    let fixed = random.one_of(&[0, 0, 7, -30]);
    let lower = middle + fixed - random.below(30);
    let upper = lower + random.below(60);
    let prefer = match random.below(if stacked { 4 } else { 3 }) {
        0 => Prefer::Smallest,
        1 => Prefer::Largest,
        2 => Prefer::Nearest(lower + random.below(1 + upper - lower)),
        _ => Prefer::Fewest,
    };
    Subject {
        sizes,
        most,
        stacked,
        each_once: stacked && random.below(3) == 0,
        read,
        chosen,
        fixed,
        lower,
        upper,
        prefer,
        first,
        last,
        step,
        usual: (from, to),
        numbered: random.below(2) == 0,
    }
}

/// Hundredths as they are written.
fn written(value: i64) -> String {
    let sign = if value < 0 { "-" } else { "" };
    let digits = format!("{:0>3}", value.unsigned_abs());
    let (whole, part) = digits.split_at(digits.len() - 2);
    format!("{sign}{whole}.{part}")
}
