//! Reads every source of a library and nothing else: what parsing alone costs, for `tests/run bench`.

#![expect(clippy::print_stdout, reason = "a tool for the terminal")]

use locknut_finding::FileId;
use std::path::Path;

fn main() {
    let folder = std::env::args().nth(1).unwrap_or_default();
    let mut lines = 0;
    let mut declarations = 0;
    for path in locknut_tests::files::below(Path::new(&folder), ".lkn") {
        let text = locknut_tests::files::text(&path);
        lines += text.lines().count();
        let (tree, _) = locknut_syntax::parse(FileId(0), &text);
        declarations += tree.declarations.len();
    }
    println!("{lines} lines, {declarations} declarations");
}
