//! Graph + sheets → the check program: one self-contained HTML file.
//!
//! In: the step graph and its sheets, one a language and unit system. Out: an HTML text that runs the
//! job with no network. The interesting idea: it carries the published step-graph document and a
//! small runtime that walks it by the same rule as the proof; the words come from the same sheets as
//! the paper, so the two cannot disagree.
//!
//! *It does not know* phrases or units by itself, nor how a proof is made.

mod data;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use locknut_graph::StepGraph;
use locknut_proof::Facts;
use locknut_quantity::Units;
use locknut_sheet::Sheet;
use quick_xml::escape::escape;
use sha2::{Digest, Sha256};

/// The runtime, in the order in which its parts build on each other.
const RUNTIME: &[&str] = &[
    include_str!("runtime/exact.js"),
    include_str!("runtime/walk.js"),
    include_str!("runtime/record.js"),
    include_str!("runtime/store.js"),
    include_str!("runtime/view.js"),
    include_str!("runtime/main.js"),
];
const STYLE: &str = include_str!("runtime/page.css");
const FRAME: &str = include_str!("runtime/page.html");

/// The check program of a procedure. The first sheet is shown first; `source_hash` goes into records.
///
/// Author text travels as JSON in a data block and is put into the page as text, never as markup.
pub fn page(
    sheets: &[Sheet],
    graph: &StepGraph,
    facts: &Facts,
    units: &Units,
    source_hash: &str,
) -> String {
    let script = RUNTIME.concat();
    let script = format!("\"use strict\";\n(() => {{\n{script}\n}})();\n");
    let data = data::page_data(sheets, graph, facts, units, source_hash);
    let policy = format!(
        "default-src 'none'; script-src 'sha256-{}'; style-src 'sha256-{}'; img-src data:; \
         base-uri 'none'; form-action 'none'",
        hash(&script),
        hash(STYLE)
    );
    let title = sheets.first().map(|sheet| sheet.head.title.as_str()).unwrap_or_default();
    let language = sheets.first().map_or("en", |sheet| sheet.language.as_str());
    let no_script = sheets.first().and_then(|sheet| sheet.labels.get("no-script"));
    let no_script = no_script.map(String::as_str).unwrap_or_default();
    filled(&[
        ("language", &escape(language)),
        ("policy", &policy),
        ("title", &escape(title)),
        ("no-script", &escape(no_script)),
        ("style", STYLE),
        ("script", &script),
        ("data", &data),
    ])
}

/// Fills the frame's places in one pass, so that nothing in an author's text is taken for a place.
fn filled(places: &[(&str, &str)]) -> String {
    let mut page = String::new();
    let mut rest = FRAME;
    while let Some((before, from)) = rest.split_once("{{") {
        let (key, after) = from.split_once("}}").unwrap_or((from, ""));
        page.push_str(before);
        page.extend(places.iter().find(|(name, _)| *name == key).map(|(_, text)| *text));
        rest = after;
    }
    page.push_str(rest);
    page
}

fn hash(text: &str) -> String {
    STANDARD.encode(Sha256::digest(text))
}
