//! Step graph → facts and findings, on every path.
//!
//! In: a step graph. Out: [`Facts`] that the sheet prints (where hazards stand, where the machine may
//! not be left) and findings, each with a shortest path that a fitter would follow. The interesting
//! idea: one property at a time, on its own slice of variables, so that work grows with what is
//! written and not with what could be interleaved.
//!
//! *It does not know* the language, its files or its words, nor how anything is printed.

mod facts;

pub use facts::{ChoiceRow, Covered, Facts, Time};
