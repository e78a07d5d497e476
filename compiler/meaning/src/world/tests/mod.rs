//! What a world is made of, seen through small libraries beside the standard one.

mod figures;
mod instruments;
mod models;
mod needs;
mod pages;
mod prose;
mod vocabulary;

use super::{Model, World, world_of};
use locknut_finding::{FileId, Report, Severity, Sources};
use locknut_syntax::tree::Tree;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

/// A library of one file, beside the standard one.
pub(super) fn library(text: &str) -> (World, Vec<Report>) {
    files(&[("test.lkn", text)])
}

/// A library of several files.
pub(super) fn files(files: &[(&str, &str)]) -> (World, Vec<Report>) {
    let (mut sources, mut trees) = STANDARD.get_or_init(standard_library).clone();
    let mut reports = Vec::new();
    for (name, text) in files.iter().copied() {
        let file = sources.add(name, text);
        let (tree, found) = locknut_syntax::parse(file, text);
        reports.extend(found.sorted());
        trees.push((file, tree));
    }
    let (world, found) = world_of(&trees, &sources);
    reports.extend(found.sorted());
    (world, reports)
}

/// A library that must have nothing wrong with it.
pub(super) fn clean(text: &str) -> World {
    let (world, reports) = library(text);
    assert!(reports.is_empty(), "{}", told(&reports));
    world
}

/// The codes of all findings, in the order in which they are shown.
pub(super) fn codes(text: &str) -> Vec<&'static str> {
    library(text).1.iter().map(|report| report.code).collect()
}

/// The one finding of a library.
pub(super) fn only(text: &str) -> Report {
    let (_, mut reports) = library(text);
    assert_eq!(reports.len(), 1, "{}", told(&reports));
    reports.remove(0)
}

/// A clean library's one model.
pub(super) fn model(text: &str) -> (World, Model) {
    let world = clean(text);
    let model = world.models.values().next().expect("the library has a model").clone();
    (world, model)
}

pub(super) fn told(reports: &[Report]) -> String {
    let line = |report: &Report| {
        let labels: Vec<&str> = report.labels.iter().map(|label| label.text.as_str()).collect();
        let kind = if report.severity == Severity::Error { "" } else { "warning " };
        format!("{kind}{} {} | {}\n", report.code, report.title, labels.join(" | "))
    };
    reports.iter().map(line).collect()
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
        let (tree, found) = locknut_syntax::parse(file, &text);
        assert!(found.reports().is_empty(), "{}", told(found.reports()));
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
fn text_of(path: &Path) -> String {
    std::fs::read_to_string(path).expect("it can be read")
}

#[test]
fn the_standard_library_is_clean() {
    clean("");
}
