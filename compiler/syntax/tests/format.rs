//! Laws of the formatter over every source in the checkout.

#![expect(clippy::unwrap_used, clippy::disallowed_methods, reason = "a test reads the checkout")]
#![expect(clippy::format_collect, reason = "a test builds its text plainly")]

use locknut_finding::FileId;
use locknut_syntax::{format, parse};
use std::path::{Path, PathBuf};

fn sources() -> Vec<(PathBuf, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let mut found = Vec::new();
    for folder in ["procedures", "examples", "stdlib", "compiler/cli/src/commands/new"] {
        gather(&root.join(folder), &mut found);
    }
    assert!(found.len() > 30, "only {} sources", found.len());
    found
}

fn gather(folder: &Path, found: &mut Vec<(PathBuf, String)>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            gather(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "lkn") {
            let text = std::fs::read_to_string(&path).unwrap();
            found.push((path, text));
        }
    }
}

/// The tree without its places.
fn meaning(text: &str) -> String {
    let (tree, _) = parse(FileId(0), text);
    let told = format!("{:?}", tree.declarations);
    let mut plain = String::new();
    let mut rest = told.as_str();
    while let Some((before, from)) = rest.split_once("Span {") {
        plain.push_str(before);
        rest = from.split_once('}').map_or("", |(_, after)| after);
    }
    plain + rest
}

#[test]
fn every_source_is_laid_out() {
    for (path, text) in sources() {
        let laid_out =
            format(&text).unwrap_or_else(|_| panic!("{} cannot be read", path.display()));
        assert_eq!(laid_out, text, "{}: run `locknut format`", path.display());
    }
}

#[test]
fn twice_is_once_and_the_meaning_stays() {
    for (path, text) in sources() {
        // Every line pushed to the margin, and double empty lines: the worst that still means the same.
        let flat: String = text.lines().map(|line| format!("{}\n\n\n", line.trim())).collect();
        let once =
            format(&flat).unwrap_or_else(|_| panic!("{} cannot be read when flat", path.display()));
        assert_eq!(format(&once).ok().as_deref(), Some(once.as_str()), "{}", path.display());
        assert_eq!(meaning(&once), meaning(&text), "{}", path.display());
    }
}

#[test]
fn what_cannot_be_read_is_left_alone() {
    assert!(format("model m {\n").is_err());
    assert_eq!(format("").ok().as_deref(), Some("\n"));
}
