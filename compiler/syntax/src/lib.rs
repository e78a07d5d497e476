//! Text → tree, with a span on every node and the comments kept; and the formatter.
//!
//! In: the text of one file. Out: a [`tree::Tree`], whole as far as it could be read, and a finding
//! for each place that could not. The interesting idea: each list of the grammar ends in a catch-all
//! to the end of the line, so one bad line costs one line.
//!
//! *It does not know* what any word means: which verbs, elements, units or names exist.

#![expect(
    missing_docs,
    reason = "fields of variants are named for what they hold; all else is documented"
)]

extern crate alloc;

mod comments;
mod findings;
mod format;
mod grammar;
mod quick;
mod read;
mod words;

pub mod tree;

pub use findings::PAGES;
pub use format::format;
pub use read::{parse, parse_again, parse_by_grammar};
