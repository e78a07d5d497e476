//! Graph + facts + phrases → what is said, in order, in one language and unit system; no layout.
//!
//! The second waist: print and page take the same lines from here, so they cannot disagree. The
//! interesting idea: a sheet is data of sentences; who lays it out needs no grammar, no unit and no
//! rounding rule.
//!
//! *It does not know* paper, pixels, files or the source language.

#![expect(
    missing_docs,
    reason = "fields of variants are named for what they hold; all else is documented"
)]

mod as_written;
mod choices;
mod clocks;
mod compose;
mod conditions;
mod expected;
mod findings;
mod guarded;
mod head;
mod labels;
mod lines;
mod lists;
mod look_ups;
mod outcomes;
mod phrase_places;
mod phrases;
mod places;
mod programs;
mod rules;
mod sheet;
mod templates;
mod text;
mod words;

pub use as_written::as_written;
pub use compose::compose;
pub use findings::PAGES;
pub use phrase_places::unknown_places;
pub use phrases::Phrases;
pub use sheet::{
    Asked, Block, Field, Follow, Head, Line, LineKind, List, Order, Outcome, Panel, Said, Sheet,
    SignLine, StateWords, Table, TemplateSheet,
};
pub use templates::compose_template;
pub use text::{template_text, text};
