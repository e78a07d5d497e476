//! Tables looked up by the compiler, for a comparison with the browser: `look_ups COUNT`.

#![expect(clippy::print_stdout, clippy::expect_used, reason = "a tool for the terminal")]

use locknut_graph::TableEnd;
use locknut_library::check_in_memory;
use locknut_quantity::Exact;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Look-ups of each table.
const LOOK_UPS: i64 = 500;

const BETWEEN: &[&str] = &["between in proportion", "between nothing", "take next lower"];

fn main() {
    let count: i64 = std::env::args().nth(1).and_then(|count| count.parse().ok()).unwrap_or(30_000);
    let all: Vec<Value> = (0..count / LOOK_UPS).map(compared).collect();
    println!("{}", Value::Array(all));
}

/// Rows whose values go up and down, of other keys and units each time.
fn source(number: i64) -> String {
    let between = BETWEEN.get(usize::try_from(number % 3).expect("small")).expect("three");
    let rows: Vec<String> = (0..3 + number % 5)
        .map(|row| {
            let key = row * (7 + number % 11) + (row * row * number) % 5;
            let value = 500 + (row * 7919 + number * 104_729) % 400;
            format!("  {}.{} °C -> {value}.{} lbf", key, row % 10, number % 10)
        })
        .collect();
    let rows = rows.join("\n");
    format!(
        "table stay : temperature -> force {{\n{rows}\n  {between}\n}}
instrument thermometer {{ measures temperature 0 .. 500 °C, resolution 0.1 °C, error 1 °C }}
model lamp {{ title \"Lamp\" }}
procedure look on lamp {{
  title \"Look\"
  step \"Read.\" {{
    measure air using thermometer, expect 0.0 .. 0.0 °C
    check tension = stay(air)
  }}
}}
"
    )
}

/// Beyond its rows and on each of them, too.
fn compared(number: i64) -> Value {
    let files = BTreeMap::from([("one.lkn".to_owned(), source(number))]);
    let checked = check_in_memory(&files);
    let table = checked.world.tables.get("stay").expect("a table");
    let (first, last) = table.keys().expect("rows");
    let width = last - first;
    let keys = (-20..LOOK_UPS - 20 - i64::try_from(table.rows.len()).expect("few"))
        .map(|at| first + &width * Exact::new(at.into(), 440.into()))
        .chain(table.rows.iter().map(|(key, _)| key.value.clone()));
    let cases: Vec<Value> = keys
        .map(|key| {
            let value = table.at(TableEnd::Upper, &key);
            json!([key.to_string(), value.map(|value| value.to_string())])
        })
        .collect();
    let one = checked.procedures.first().expect("compiled");
    let document = locknut_data::graph_json(&one.graph, &one.facts, &checked.world.units);
    let document: Value = serde_json::from_str(&document.expect("a document")).expect("JSON");
    json!({ "lookUp": look_up(&document).expect("it is in the document"), "cases": cases })
}

/// The look-up, wherever it stands in the document.
fn look_up(of: &Value) -> Option<&Value> {
    match of {
        Value::Object(fields) if fields.get("is").is_some_and(|is| is == "look-up") => Some(of),
        Value::Object(fields) => fields.values().find_map(look_up),
        Value::Array(all) => all.iter().find_map(look_up),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => None,
    }
}
