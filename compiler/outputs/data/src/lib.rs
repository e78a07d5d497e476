//! Step graph → JSON with a published schema.
//!
//! In: a graph with its facts. Out: one JSON document ([`SCHEMA`]) that is complete: a program that
//! has only this can run the job, exactly. The interesting idea: the check program is such a
//! program, so the document is tested by being used. Numbers are exact fractions in text (`"7/20"`),
//! in the base unit of their kind.
//!
//! *It does not know* any sentence, language or layout.

mod document;
mod parts;
mod value;

pub use document::{Document, document};
pub use parts::way_word;

use locknut_graph::StepGraph;
use locknut_proof::Facts;
use locknut_quantity::Units;

/// The published JSON Schema (draft 2020-12) of the document.
pub const SCHEMA: &str = include_str!("step-graph.schema.json");

/// The document as pretty-printed JSON with a line end.
///
/// # Errors
/// Where the document cannot be written as JSON, which no document made here can cause.
pub fn graph_json(graph: &StepGraph, facts: &Facts, units: &Units) -> serde_json::Result<String> {
    let mut text = serde_json::to_string_pretty(&document(graph, facts, units))?;
    text.push('\n');
    Ok(text)
}
