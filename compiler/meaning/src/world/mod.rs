//! Everything that is declared: units, elements, models, things, named limits.
//!
//! Built once for a library; procedures are read against it and see nothing else.

mod near;
mod needs;
pub(crate) mod read;
mod things;

pub(crate) use read::{Bounds, NoReadings, Reader, ReadingScope};

pub use things::{
    Attribute, Consumable, ElementAct, ElementKind, Figure, Instrument, Model, ModelThing, Need, NamedLimit,
    RelationKind, Stage, Tool,
};

use locknut_finding::{FileId, Findings, Sources};
use locknut_quantity::{KindId, Units};
use locknut_syntax::tree::Tree;
use std::collections::BTreeMap;

/// All declarations of a library but its procedures.
#[derive(Clone, Debug, Default)]
pub struct World {
    /// Kinds and units.
    pub units: Units,
    /// Kinds that are one gauge's own scale, with the scale's words ("Shore A").
    pub own_scales: BTreeMap<KindId, String>,
    /// Elements of the vocabulary: `bolts`, `part`, …
    pub elements: BTreeMap<String, ElementKind>,
    /// Threads, strength classes, friction conditions and efforts, by keyword and name.
    pub figures: BTreeMap<(String, String), Figure>,
    /// Models by name.
    pub models: BTreeMap<String, Model>,
    /// Instruments by name.
    pub instruments: BTreeMap<String, Instrument>,
    /// Tools by name.
    pub tools: BTreeMap<String, Tool>,
    /// Consumables by name.
    pub consumables: BTreeMap<String, Consumable>,
    /// Top-level `value`s and `limit`s.
    pub limits: BTreeMap<String, NamedLimit>,
    /// The texts that spans point into: messages and sheets say figures as they are written there.
    pub sources: Sources,
    /// Procedures and subtasks by name; a broken one is there too, so that calls find it.
    pub procedures: BTreeMap<String, locknut_syntax::tree::Procedure>,
}

/// Everything that the files declare; the standard library's come first.
pub fn build_world(trees: &[(FileId, Tree)], sources: &Sources) -> (World, Findings) {
    let _ = (trees, sources);
    (World::default(), Findings::default())
}
