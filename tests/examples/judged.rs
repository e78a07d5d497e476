//! Every procedure of a library with its step graph as it is published, and what the proof says of it, for a
//! comparison with an explorer written apart: `judged FOLDER`. What does not compile is left out.

#![expect(clippy::print_stdout, reason = "a tool for the terminal")]

use locknut_library::check_in_memory;
use locknut_tests::files;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::Path;

fn main() {
    let folder = std::env::args().nth(1).unwrap_or_default();
    let folder = Path::new(&folder);
    let sources: BTreeMap<String, String> = files::below(folder, "")
        .into_iter()
        .filter_map(|path| {
            let name = path.strip_prefix(folder).ok()?.to_str()?.to_owned();
            Some((name, files::text(&path)))
        })
        .collect();
    let checked = check_in_memory(&sources);
    let procedures = checked.procedures.iter().map(|one| {
        let graph = locknut_data::graph_json(&one.graph, &one.facts, &checked.world.units);
        let graph: Value = serde_json::from_str(&graph.unwrap_or_default()).unwrap_or_default();
        let (failed, alike) = locknut_proof::failed(&one.graph);
        let failed = failed.into_iter().map(|(duty, node, _)| (duty, node));
        let alike = alike.into_iter().map(|(duty, node)| (duty, Some(node)));
        let failed: Vec<Value> = failed
            .chain(alike)
            .map(|(duty, node)| json!([duty, node.map(locknut_graph::NodeId::index)]))
            .collect();
        json!({ "name": one.name, "graph": graph, "failed": failed })
    });
    println!("{}", Value::Array(procedures.collect()));
}
