//! Walks a step graph: what may be done next, verdicts, the record.
//!
//! In: a graph, and a person's answers one by one. Out: the next question, a verdict in exact
//! arithmetic, and at the end a record whose entries are chained by SHA-256. The interesting idea:
//! the walk is [`locknut_graph::Marking`], the same that the proof explored, so a job can go nowhere
//! that was not proved.
//!
//! *It does not know* phrases, terminals, clocks or files: the time of an entry is handed in.

#![expect(
    missing_docs,
    reason = "fields of variants are named for what they hold; all else is documented"
)]

mod evaluate;
mod job;
mod judge;
mod record;

pub use evaluate::{Readings, Taken};
pub use job::{Answer, Ask, Job, Refused, Told};
pub use judge::{typed_number, within};
pub use record::{Entry, Record, RecordEnd, ValueEntry};
