//! Runs a case: what is found must be what is marked, there and nowhere else.
//!
//! Marks: `//~ LN512 "stop"` at the end of a line (in YAML and Fluent `#~ …`): a finding of that code
//! whose first label stands on this line and says so (the quoted part, a beginning, may be left out).
//! `//~v LN004` speaks of the next line. `//~? LN911` wants a finding without a place.

use crate::markdown::Case;
use locknut_finding::text::{Style, show};
use locknut_finding::{Report, Sources};
use std::collections::BTreeMap;

/// What is not as a text says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Failure {
    /// The case.
    pub case: String,
    /// What is wrong, with the findings as they came.
    pub what: String,
}

/// What came of checking files.
pub type Checked = (Vec<Report>, Sources);

/// A mark: file, line, code, and how the marked text begins.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Mark {
    file: String,
    line: Option<usize>,
    code: String,
    starts: Option<String>,
}

/// The one check of a library in memory: everything that `locknut check` says, and what composing its
/// sheets says where it has no errors.
pub fn check(files: &BTreeMap<String, String>) -> Checked {
    let checked = locknut_library::check_in_memory(files);
    let mut reports = checked.reports.clone();
    if !checked.has_errors() {
        let mut found = locknut_finding::Findings::default();
        for procedure in &checked.procedures {
            for language in &checked.settings.languages {
                found
                    .extend(locknut_library::compose(&checked, procedure, language, None).findings);
            }
        }
        reports.extend(found.sorted());
    }
    (reports, checked.sources)
}

/// Runs every case of a text.
pub fn run(text: &str, check: &dyn Fn(&BTreeMap<String, String>) -> Checked) -> Vec<Failure> {
    crate::cases(text).iter().flat_map(|case| run_case(case, check)).collect()
}

fn run_case(case: &Case, check: &dyn Fn(&BTreeMap<String, String>) -> Checked) -> Vec<Failure> {
    let files = files(case);
    let (reports, sources) = check(&files);
    let mut failures = Vec::new();
    let mut left: Vec<&Report> = reports.iter().collect();
    for mark in marks(&files) {
        match left.iter().position(|report| fits(&mark, report, &sources)) {
            Some(found) => {
                left.remove(found);
            }
            None => failures.push(failure(
                case,
                &format!("missing: {}", told(&mark)),
                &reports,
                &sources,
            )),
        }
    }
    for report in left {
        let at = place(report, &sources);
        let what = format!("not marked: {} at {}:{} “{}”", report.code, at.0, at.1, report.title);
        failures.push(failure(case, &what, &reports, &sources));
    }
    if let Some(message) = &case.message {
        let shown = message_of(&reports, &sources);
        if message.text.trim_end() != shown.trim_end() {
            failures.push(failure(
                case,
                "the message differs; read it and run `cargo house bless`",
                &reports,
                &sources,
            ));
        }
    }
    failures
}

/// The files of a case by name; blocks without a name are numbered.
pub fn files(case: &Case) -> BTreeMap<String, String> {
    let mut files = BTreeMap::new();
    for (number, block) in (1..).zip(&case.blocks) {
        let name = block.file.clone().unwrap_or_else(|| match number {
            1 => "case.lkn".to_owned(),
            more => format!("case-{more}.lkn"),
        });
        files.insert(name, block.text.clone());
    }
    files
}

/// All findings as a person reads them.
pub fn message_of(reports: &[Report], sources: &Sources) -> String {
    let style = Style { color: false, width: 90 };
    reports.iter().map(|report| show(report, sources, style)).collect::<Vec<_>>().join("\n")
}

fn marks(files: &BTreeMap<String, String>) -> Vec<Mark> {
    let mut marks = Vec::new();
    for (file, text) in files {
        for (number, line) in (1..).zip(text.lines()) {
            for sign in ["//~", "#~"] {
                let Some((_, mark)) = line.split_once(sign) else { continue };
                let (line, rest) = match (mark.strip_prefix('v'), mark.strip_prefix('?')) {
                    (Some(rest), _) => (Some(number + 1), rest),
                    (_, Some(rest)) => (None, rest),
                    _ => (Some(number), mark),
                };
                let (code, starts) = match rest.trim().split_once(' ') {
                    Some((code, starts)) => {
                        (code, Some(starts.trim().trim_matches('"').to_owned()))
                    }
                    None => (rest.trim(), None),
                };
                marks.push(Mark { file: file.clone(), line, code: code.to_owned(), starts });
            }
        }
    }
    marks
}

fn fits(mark: &Mark, report: &Report, sources: &Sources) -> bool {
    let (file, line) = place(report, sources);
    let there = match mark.line {
        Some(marked) => file == mark.file && line == marked,
        None => report.labels.is_empty(),
    };
    there
        && report.code == mark.code
        && mark.starts.as_ref().is_none_or(|starts| {
            report.labels.first().is_some_and(|label| label.text.starts_with(starts.as_str()))
        })
}

fn place(report: &Report, sources: &Sources) -> (String, usize) {
    match report.labels.first() {
        Some(label) => {
            (sources.name(label.span.file).to_owned(), sources.line_and_column(label.span).0)
        }
        None => (String::new(), 0),
    }
}

fn told(mark: &Mark) -> String {
    let line =
        mark.line.map_or_else(|| "without a place".to_owned(), |line| format!("line {line}"));
    let starts = mark.starts.as_ref().map(|starts| format!(" at “{starts}”")).unwrap_or_default();
    format!("{} in {}, {line}{starts}", mark.code, mark.file)
}

fn failure(case: &Case, what: &str, reports: &[Report], sources: &Sources) -> Failure {
    let line = case.blocks.first().map_or(0, |block| block.line);
    Failure {
        case: case.name.clone(),
        what: format!("{what}\n(block at line {line})\n{}", message_of(reports, sources)),
    }
}
