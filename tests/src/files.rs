//! Where things lie in the checkout, for tests and the house tool.

#![expect(
    clippy::disallowed_methods,
    reason = "tests and the house tool read and write the checkout"
)]

use std::path::{Path, PathBuf};

/// The root of the checkout.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// All files below a folder with an ending, by path; the build's own folders are left out.
pub fn below(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    gather(folder, ending, &mut found);
    found.sort();
    found
}

fn gather(folder: &Path, ending: &str, found: &mut Vec<PathBuf>) {
    let Ok(entries) = std::fs::read_dir(folder) else { return };
    for path in entries.flatten().map(|entry| entry.path()) {
        let name =
            path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        if path.is_dir() && !name.starts_with('.') && name != "target" && name != "node_modules" {
            gather(&path, ending, found);
        } else if name.ends_with(ending) {
            found.push(path);
        }
    }
}

/// A file's text; empty where it cannot be read.
pub fn text(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap_or_default()
}

/// Writes a file of the checkout.
///
/// # Errors
/// As the system says.
pub fn write(path: &Path, text: &str) -> std::io::Result<()> {
    std::fs::write(path, text)
}

/// The library in a folder of the checkout: names to texts.
pub fn library(folder: &str) -> std::collections::BTreeMap<String, String> {
    let home = root().join(folder);
    let mut files = std::collections::BTreeMap::new();
    for ending in [".lkn", ".yaml", ".ftl"] {
        for path in below(&home, ending) {
            if let Ok(name) = path.strip_prefix(&home) {
                files.insert(name.to_string_lossy().replace('\\', "/"), text(&path));
            }
        }
    }
    files
}

/// Every Markdown text that runs: pages, the reference, cases.
pub fn running_texts() -> Vec<PathBuf> {
    let root = root();
    let mut texts = below(&root.join("compiler"), ".md");
    texts.retain(|path| {
        path.file_name().is_some_and(|name| name.to_string_lossy().starts_with("ln"))
    });
    texts.extend(below(&root.join("tests/cases"), ".md"));
    texts.push(root.join("grammar/reference.md"));
    texts
}
