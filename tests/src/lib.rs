//! The case runner: Markdown in, failures out.
//!
//! In: a Markdown text (an error's page, a chapter of the reference, a file of cases) and the one
//! function that checks files. Out: what is not as the text says. The interesting idea: what is
//! promised to a reader is what runs; marks in the sources say what must be found and where.
//!
//! *It does not know* how anything is checked.

pub mod bless;
pub mod files;
pub mod house;
pub mod index;
pub mod markdown;
pub mod mended;
pub mod random;
pub mod run;

pub use markdown::{Block, Case, cases};
pub use run::{Failure, check, run};
