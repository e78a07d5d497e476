//! Graphs seen through small libraries beside the standard one. Each test shows a source and all that
//! becomes of it, one node a line: number of the step, what is done, effects, ways.

mod acts;
mod flow;
mod gap;
mod machine;
mod pages;
mod readings;
mod rows;

use super::graph_of;
use crate::World;
use crate::world::world_of;
use locknut_finding::{FileId, Report, Severity, Sources};
use locknut_graph::StepGraph;
use locknut_syntax::tree::Tree;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

/// All findings of a library and of all its procedures.
pub(super) fn reports(text: &str) -> Vec<Report> {
    read(text).2
}

/// The graph of a procedure of a library in which nothing is wrong.
pub(super) fn graph(text: &str, name: &str) -> StepGraph {
    let (world, _, reports) = read(text);
    assert!(reports.is_empty(), "{}", told(&reports));
    graph_of(&world, name, "Kestmoor").0.expect("a graph")
}

/// The nodes of the procedure `p` of a library in which nothing is wrong.
pub(super) fn rows(text: &str) -> String {
    rows::rows(&graph(text, "p"))
}

/// The nodes must be these, but for the margin.
pub(super) fn assert_rows(text: &str, wanted: &str) {
    let trimmed = |text: &str| -> Vec<String> {
        let lines = text.lines().map(str::trim).filter(|line| !line.is_empty());
        lines.map(str::to_owned).collect()
    };
    let got = rows(text);
    assert_eq!(trimmed(&got), trimmed(wanted), "\n{got}");
}

/// The codes of all findings, in the order in which they are shown.
pub(super) fn codes(text: &str) -> Vec<&'static str> {
    reports(text).iter().map(|report| report.code).collect()
}

/// The one finding of a library.
pub(super) fn only(text: &str) -> Report {
    let mut reports = reports(text);
    assert_eq!(reports.len(), 1, "{}", told(&reports));
    reports.remove(0)
}

/// Code, title and labels of each finding.
pub(super) fn told(reports: &[Report]) -> String {
    let line = |report: &Report| {
        let labels: Vec<&str> = report.labels.iter().map(|label| label.text.as_str()).collect();
        let kind = if report.severity == Severity::Error { "" } else { "warning " };
        format!("{kind}{} {} | {}\n", report.code, report.title, labels.join(" | "))
    };
    reports.iter().map(line).collect()
}

fn read(text: &str) -> (World, FileId, Vec<Report>) {
    let (mut sources, mut trees) = STANDARD.get_or_init(standard_library).clone();
    let file = sources.add("test.lkn", text);
    let (tree, mut found) = locknut_syntax::parse(file, text);
    trees.push((file, tree));
    let (world, of_world) = world_of(&trees, &sources);
    found.extend(of_world);
    for name in world.procedures.keys() {
        found.extend(graph_of(&world, name, "Kestmoor").1);
    }
    (world, file, found.sorted())
}

type Read = (Sources, Vec<(FileId, Tree)>);

static STANDARD: OnceLock<Read> = OnceLock::new();

/// The files of `stdlib/`, read.
fn standard_library() -> Read {
    let mut paths = Vec::new();
    gather(&Path::new(env!("CARGO_MANIFEST_DIR")).join("../../stdlib"), &mut paths);
    paths.sort();
    let (mut sources, mut trees) = (Sources::default(), Vec::new());
    for path in paths {
        let text = text_of(&path);
        let file = sources.add(path.display().to_string(), text.clone());
        let (tree, _) = locknut_syntax::parse(file, &text);
        trees.push((file, tree));
    }
    (sources, trees)
}

fn gather(folder: &Path, paths: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).expect("the folder is there") {
        let path = entry.expect("it can be listed").path();
        if path.is_dir() {
            gather(&path, paths);
        } else if path.extension().is_some_and(|extension| extension == "lkn") {
            paths.push(path);
        }
    }
}

#[expect(clippy::disallowed_methods, reason = "a test reads the standard library where it lies")]
pub(super) fn text_of(path: &Path) -> String {
    std::fs::read_to_string(path).expect("it can be read")
}
