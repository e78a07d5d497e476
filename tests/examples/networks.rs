//! Random networks of activities with the answers of the compiler, one JSON object a line, for a
//! comparison with another program: `networks COUNT`.

#![expect(clippy::print_stdout, reason = "a tool for the terminal")]

use locknut_proof::schedule::{Activity, plan};
use locknut_quantity::Exact;
use serde_json::json;

/// Numbers that look random and are the same each time (Knuth, *The Art of Computer Programming* 2,
/// 3.3.4, table 1; from memory).
struct Random(u64);

impl Random {
    fn below(&mut self, bound: u64) -> u64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % bound
    }
}

fn main() {
    let count = std::env::args().nth(1).and_then(|count| count.parse().ok()).unwrap_or(200);
    let mut random = Random(1);
    for _ in 0..count {
        println!("{}", network(&mut random));
    }
}

fn network(random: &mut Random) -> serde_json::Value {
    let size = 2 + usize::try_from(random.below(30)).unwrap_or(0);
    let mut activities: Vec<Activity> = Vec::new();
    let mut written = Vec::new();
    for at in 0..size {
        let shortest = random.below(20);
        let likely = shortest + random.below(20);
        let longest = likely + random.below(20);
        let after: Vec<usize> = (0..at).filter(|_| random.below(4) == 0).collect();
        written.push(json!({ "takes": [shortest, likely, longest], "after": after }));
        let exact = |time: u64| Exact::from_integer(time.into());
        activities
            .push(Activity { takes: (exact(shortest), exact(likely), exact(longest)), after });
    }
    let plan = plan(&activities);
    let slack: Vec<String> = plan.slots.iter().map(|slot| slot.slack().to_string()).collect();
    json!({
        "activities": written,
        "mean": plan.mean.to_string(),
        "variance": plan.variance.to_string(),
        "critical": plan.critical,
        "slack": slack,
    })
}
