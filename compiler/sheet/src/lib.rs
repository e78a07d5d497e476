//! Graph + facts + phrases → what is said, in order, in one language and unit system; no layout.
//!
//! The second waist: print and page take the same lines from here, so they cannot disagree. The
//! interesting idea: a sheet is data of sentences; who lays it out needs no grammar, no unit and no
//! rounding rule.
//!
//! *It does not know* paper, pixels, files or the source language.

mod sheet;

pub use sheet::{
    Block, Field, Head, Line, LineKind, List, Outcome, Panel, Sheet, SignLine, Table,
};
