//! Times by the critical path and by three-point estimates, against worked networks.

use locknut_proof::schedule::{Activity, plan};
use locknut_quantity::Exact;
use serde::Deserialize;

#[derive(Deserialize)]
struct Network {
    #[serde(rename = "network")]
    name: String,
    mean: i64,
    variance: i64,
    critical: Vec<String>,
    activities: Vec<Row>,
}

#[derive(Deserialize)]
struct Row {
    name: String,
    after: Vec<String>,
    takes: [i64; 3],
    mean: i64,
    variance: i64,
    slack: i64,
}

fn parts(whole: i64, of: i64) -> Exact {
    Exact::new(whole.into(), of.into())
}

#[test]
fn every_network_comes_to_what_was_published() {
    let networks: Vec<Network> =
        serde_yaml::from_str(include_str!("../reference/networks.yaml")).expect("the table reads");
    assert!(networks.len() >= 7);
    for network in networks {
        let place = |name: &String| {
            let found = network.activities.iter().position(|row| row.name == *name);
            found.unwrap_or_else(|| panic!("{} has no {name}", network.name))
        };
        let activities: Vec<Activity> = network
            .activities
            .iter()
            .map(|row| {
                let [a, m, b] = row.takes.map(|time| parts(time, 1));
                Activity { takes: (a, m, b), after: row.after.iter().map(place).collect() }
            })
            .collect();
        let plan = plan(&activities);
        for (slot, row) in plan.slots.iter().zip(&network.activities) {
            let what = format!("{} {}", network.name, row.name);
            assert_eq!(slot.mean, parts(row.mean, 6), "mean of {what}");
            assert_eq!(slot.variance, parts(row.variance, 36), "variance of {what}");
            assert_eq!(slot.slack(), parts(row.slack, 6), "slack of {what}");
        }
        assert_eq!(plan.mean, parts(network.mean, 6), "{}", network.name);
        assert_eq!(plan.variance, parts(network.variance, 36), "{}", network.name);
        let names: Vec<&String> =
            plan.critical.iter().map(|at| &network.activities[*at].name).collect();
        assert_eq!(names, network.critical.iter().collect::<Vec<_>>(), "{}", network.name);
    }
}

#[test]
fn of_two_longest_paths_the_less_certain_one_counts() {
    // Both take 6 on the mean; the second may take from 0 to 12.
    let takes = |a, m, b| (parts(a, 1), parts(m, 1), parts(b, 1));
    let activities = [
        Activity { takes: takes(6, 6, 6), after: Vec::new() },
        Activity { takes: takes(0, 6, 12), after: Vec::new() },
    ];
    let plan = plan(&activities);
    assert_eq!((plan.critical, plan.variance), (vec![1], parts(4, 1)));
}
