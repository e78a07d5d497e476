//! Reports as JSON and SARIF for a program.

use crate::{FileId, Label, Page, Report, Severity, Sources, Span};
use serde::Serialize;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// What was proved of one procedure, for a program.
#[derive(Clone, Debug, Default)]
pub struct Proof {
    /// The procedure.
    pub procedure: String,
    /// The figures of its one line: name, then a number or text.
    pub figures: Vec<(&'static str, Value)>,
    /// What holds on every path; empty unless it was asked for.
    pub held: Vec<Held>,
    /// What the proof takes for granted; empty unless it was asked for.
    pub assumed: Vec<Label>,
    /// Calculations, each at its act; empty unless they were asked for.
    pub sums: Vec<(Label, Value)>,
}

/// One obligation that holds.
#[derive(Clone, Debug)]
pub struct Held {
    /// The code of what would be said if it did not.
    pub code: &'static str,
    /// The line that asks for it, with what it asks.
    pub asked: Label,
    /// Where it is tested, each with the number of its step.
    pub tested: Vec<Label>,
}

/// One JSON document: `{"format": "locknut findings 2", "findings": [ … ], "procedures": [ … ]}`, with a
/// line end.
///
/// Lines and columns count from 1, columns in characters; `start` and `end` are bytes of the file.
pub fn json(reports: &[Report], proofs: &[Proof], sources: &Sources) -> String {
    let findings: Vec<FindingData> =
        reports.iter().map(|report| finding(report, sources)).collect();
    let procedures: Vec<Value> = proofs.iter().map(|one| proof(one, sources)).collect();
    pretty(&json!({
        "format": "locknut findings 2",
        "findings": findings,
        "procedures": procedures,
    }))
}

fn proof(proof: &Proof, sources: &Sources) -> Value {
    let places = |labels: &[Label]| -> Vec<PlaceData> {
        labels.iter().map(|label| place(label.span, &label.text, sources)).collect()
    };
    let held = proof.held.iter().map(|held| {
        json!({
            "code": held.code,
            "asked": place(held.asked.span, &held.asked.text, sources),
            "tested": places(&held.tested),
        })
    });
    let mut data = json!({
        "procedure": proof.procedure,
        "obligations": held.collect::<Vec<_>>(),
        "assumptions": places(&proof.assumed),
    });
    if let Some(object) = data.as_object_mut() {
        if !proof.sums.is_empty() {
            object.insert("sums".into(), sums(proof, sources));
        }
        let figures = proof.figures.iter();
        object.extend(figures.map(|(name, value)| ((*name).to_owned(), value.clone())));
    }
    data
}

fn sums(proof: &Proof, sources: &Sources) -> Value {
    let sums = proof.sums.iter().map(|(label, sum)| {
        let mut sum = sum.clone();
        if let Some(object) = sum.as_object_mut() {
            object.insert("place".into(), json!(place(label.span, &label.text, sources)));
        }
        sum
    });
    Value::Array(sums.collect())
}

#[derive(Serialize)]
struct FindingData {
    code: &'static str,
    severity: &'static str,
    title: String,
    places: Vec<PlaceData>,
    path: Vec<PathData>,
    consequence: Option<String>,
    mends: Vec<MendData>,
    notes: Vec<String>,
}

#[derive(Serialize)]
struct PlaceData {
    file: String,
    line: usize,
    column: usize,
    start: u32,
    end: u32,
    text: String,
}

#[derive(Serialize)]
struct PathData {
    text: String,
    place: Option<PlaceData>,
}

#[derive(Serialize)]
struct MendData {
    text: String,
    edits: Vec<EditData>,
}

#[derive(Serialize)]
struct EditData {
    file: String,
    start: u32,
    end: u32,
    text: String,
}

fn finding(report: &Report, sources: &Sources) -> FindingData {
    FindingData {
        code: report.code,
        severity: severity(report.severity),
        title: report.title.clone(),
        places: report.labels.iter().map(|label| place(label.span, &label.text, sources)).collect(),
        path: report
            .path
            .iter()
            .map(|point| PathData {
                text: point.text.clone(),
                place: point.span.map(|span| place(span, "", sources)),
            })
            .collect(),
        consequence: report.consequence.clone(),
        mends: report
            .mends
            .iter()
            .map(|mend| MendData {
                text: mend.text.clone(),
                edits: mend
                    .edits
                    .iter()
                    .map(|edit| EditData {
                        file: sources.name(edit.span.file).to_owned(),
                        start: edit.span.start,
                        end: edit.span.end,
                        text: edit.text.clone(),
                    })
                    .collect(),
            })
            .collect(),
        notes: report.notes.clone(),
    }
}

fn place(span: Span, text: &str, sources: &Sources) -> PlaceData {
    let (line, column) = sources.line_and_column(span);
    let file = sources.name(span.file).to_owned();
    PlaceData { file, line, column, start: span.start, end: span.end, text: text.to_owned() }
}

fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
    }
}

/// One SARIF 2.1.0 log (OASIS standard), with a line end: rules from the pages, code flows from paths,
/// fixes from edits; what holds is a result of the kind `pass`. Columns are in UTF-16 code units, the
/// standard's default.
pub fn sarif(reports: &[Report], proofs: &[Proof], sources: &Sources, pages: &[Page]) -> String {
    let rules: Vec<Value> = pages
        .iter()
        .map(|page| {
            json!({
                "id": page.code(),
                "shortDescription": { "text": page.title() },
                "help": { "text": crate::page::plain(page), "markdown": page.text() },
            })
        })
        .collect();
    let mut results: Vec<Value> = reports.iter().map(|report| result(report, sources)).collect();
    for proof in proofs {
        results.extend(proof.held.iter().map(|held| passed(&proof.procedure, held, sources)));
    }
    pretty(&json!({
        "$schema": "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
        "version": "2.1.0",
        "runs": [{
            "tool": { "driver": {
                "name": "locknut",
                "version": env!("CARGO_PKG_VERSION"),
                "rules": rules,
            } },
            "columnKind": "utf16CodeUnits",
            "results": results,
        }],
    }))
}

fn result(report: &Report, sources: &Sources) -> Value {
    let mut result = json!({
        "ruleId": report.code,
        "level": severity(report.severity),
        "message": { "text": message(report) },
        "locations": report.labels.iter().take(1).map(|label| location(label, sources)).collect::<Vec<_>>(),
        "relatedLocations": report.labels.iter().skip(1).map(|label| location(label, sources)).collect::<Vec<_>>(),
    });
    if let Some(object) = result.as_object_mut() {
        if !report.path.is_empty() {
            object.insert("codeFlows".into(), code_flow(report, sources));
        }
        let fixes = fixes(report, sources);
        if !fixes.is_empty() {
            object.insert("fixes".into(), Value::Array(fixes));
        }
    }
    result
}

fn passed(procedure: &str, held: &Held, sources: &Sources) -> Value {
    let at: Vec<Value> = held.tested.iter().map(|label| location(label, sources)).collect();
    json!({
        "ruleId": held.code,
        "kind": "pass",
        "level": "none",
        "message": { "text": format!("{procedure}: on every path {}.", held.asked.text) },
        "locations": at.first().into_iter().collect::<Vec<_>>(),
        "relatedLocations": [location(&held.asked, sources)],
    })
}

/// SARIF messages are sentences: the title gets its full stop here.
fn message(report: &Report) -> String {
    let mut text = format!("{}.", report.title);
    if let Some(consequence) = &report.consequence {
        text.extend([" In the workshop: ", consequence, "."]);
    }
    text
}

fn location(label: &Label, sources: &Sources) -> Value {
    json!({
        "physicalLocation": physical(label.span, sources),
        "message": { "text": label.text },
    })
}

fn physical(span: Span, sources: &Sources) -> Value {
    json!({
        "artifactLocation": { "uri": relative_uri(sources.name(span.file)) },
        "region": region(span, sources),
    })
}

fn region(span: Span, sources: &Sources) -> Value {
    let (start_line, start_column) = utf16_place(sources.text(span.file), span.range().start);
    let (end_line, end_column) = utf16_place(sources.text(span.file), span.range().end);
    json!({
        "startLine": start_line, "startColumn": start_column,
        "endLine": end_line, "endColumn": end_column,
    })
}

fn utf16_place(text: &str, byte: usize) -> (usize, usize) {
    let before = text.get(..byte).unwrap_or("");
    let line = before.matches('\n').count() + 1;
    let column = before.rsplit('\n').next().unwrap_or("").encode_utf16().count() + 1;
    (line, column)
}

fn code_flow(report: &Report, sources: &Sources) -> Value {
    let locations: Vec<Value> = report
        .path
        .iter()
        .map(|point| {
            let mut location = json!({ "message": { "text": point.text } });
            if let (Some(span), Some(object)) = (point.span, location.as_object_mut()) {
                object.insert("physicalLocation".into(), physical(span, sources));
            }
            json!({ "location": location })
        })
        .collect();
    json!([{ "threadFlows": [{ "locations": locations }] }])
}

fn fixes(report: &Report, sources: &Sources) -> Vec<Value> {
    let known = report.mends.iter().filter(|mend| !mend.edits.is_empty());
    known
        .map(|mend| {
            let mut files: BTreeMap<FileId, Vec<Value>> = BTreeMap::new();
            for edit in &mend.edits {
                files.entry(edit.span.file).or_default().push(json!({
                    "deletedRegion": region(edit.span, sources),
                    "insertedContent": { "text": edit.text },
                }));
            }
            let changes = files.into_iter().map(|(file, replacements)| {
                json!({
                    "artifactLocation": { "uri": relative_uri(sources.name(file)) },
                    "replacements": replacements,
                })
            });
            json!({
                "description": { "text": mend.text },
                "artifactChanges": changes.collect::<Vec<_>>(),
            })
        })
        .collect()
}

/// Percent-encodes what RFC 3986 does not allow in a path.
fn relative_uri(name: &str) -> String {
    let mut uri = String::new();
    for byte in name.bytes() {
        if byte.is_ascii_alphanumeric() || b"-._~/".contains(&byte) {
            uri.push(char::from(byte));
        } else {
            uri.extend(["%", &format!("{byte:02X}")]);
        }
    }
    uri
}

fn pretty(value: &Value) -> String {
    // A `Value` has no map keys but strings, so it can always be written.
    let mut text = serde_json::to_string_pretty(value).unwrap_or_default();
    text.push('\n');
    text
}
