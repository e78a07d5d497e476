//! Finds a library's files, runs the stages, hands out what came of them: the only door in.
//!
//! In: the files of a folder ([`Disk`]), or a map in memory. Out: [`Checked`]: every finding,
//! and each procedure's step graph with its facts. The interesting idea: stages return their value
//! *and* their findings, so one run shows everything that is wrong, and a broken file costs only
//! what it says.
//!
//! *It does not know* any output, the command line, or how a finding is shown.

mod at_points;
mod callers;
mod check;
mod compile;
mod compose;
mod converted;
mod findings;
mod many;
mod memory;
mod mends;
mod on_paper;
mod read;
mod settings;
mod shelf;
mod shelved;
mod standard;

pub use check::{Checked, Compiled, Proved, check, check_again, check_files, check_in_memory};
pub use compose::{Composed, compose, compose_template};
pub use locknut_graph::Paper;
pub use locknut_proof::Wanted;
pub use memory::Memory;
pub use on_paper::off_paper;
pub use settings::Settings;
pub use shelf::{Disk, ShelfProblem, root_of};
pub use shelved::PhraseFile;
pub use standard::standard;

use locknut_finding::Page;

/// The pages of every code, by code.
pub fn pages() -> Vec<Page> {
    let mut pages: Vec<Page> = locknut_syntax::PAGES
        .iter()
        .chain(locknut_meaning::PAGES)
        .chain(locknut_proof::PAGES.iter().copied().flatten())
        .chain(locknut_sheet::PAGES)
        .chain(findings::PAGES)
        .copied()
        .collect();
    pages.sort_by_key(Page::code);
    pages
}
