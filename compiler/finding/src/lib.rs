//! What is wrong, where, by which path, and how to mend it.
//!
//! In: facts that a stage noticed, as a small struct that implements [`Finding`]. Out: a plain
//! [`Report`], shown as text for a person ([`text`]), or as JSON and SARIF for a program.
//!
//! The interesting idea: the words of a finding stand in the same file as its facts, and its page
//! beside it. There is no central table of messages.
//!
//! *It does not know* the language, the machine or the proofs: only places and sentences.

mod causes;
mod place;
mod report;

pub mod data;
pub mod page;
pub mod text;

pub use causes::causes_first;
pub use page::Page;
pub use place::{FileId, Sources, Span};
pub use report::{Call, Change, Edit, Finding, Findings, Label, Mend, PathPoint, Report, Severity};
