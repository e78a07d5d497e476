//! What can be wrong with names, quantities and readings.
//!
//! One folder a family, one file and one page a code.

pub(crate) mod flow;
pub(crate) mod hardware;
pub(crate) mod names;
pub(crate) mod people;
pub(crate) mod quantities;
pub(crate) mod readings;
pub(crate) mod templates;

use locknut_finding::Page;

const FAMILIES: &[&[Page]] = &[
    names::PAGES,
    quantities::PAGES,
    readings::PAGES,
    flow::PAGES,
    hardware::PAGES,
    people::PAGES,
    templates::PAGES,
];

/// The pages of this crate's codes.
pub const PAGES: &[Page] = &joined::<{ count() }>();

#[expect(
    clippy::indexing_slicing,
    reason = "worked out while compiling: an index out of range does not compile"
)]
const fn count() -> usize {
    let (mut family, mut all) = (0, 0);
    while family < FAMILIES.len() {
        all += FAMILIES[family].len();
        family += 1;
    }
    all
}

#[expect(
    clippy::indexing_slicing,
    reason = "worked out while compiling: an index out of range does not compile"
)]
const fn joined<const N: usize>() -> [Page; N] {
    let mut pages = [names::PAGES[0]; N];
    let (mut family, mut at) = (0, 0);
    while family < FAMILIES.len() {
        let mut page = 0;
        while page < FAMILIES[family].len() {
            pages[at] = FAMILIES[family][page];
            (page, at) = (page + 1, at + 1);
        }
        family += 1;
    }
    pages
}
