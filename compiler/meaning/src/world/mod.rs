//! Everything that is declared: units, elements, models, things, named limits.
//!
//! Built once for a library; procedures are read against it and see nothing else.

mod things;

pub use things::{
    Attribute, Consumable, ElementAct, ElementKind, Figure, Instrument, Model, ModelThing, Need, NamedLimit,
    RelationKind, Stage, Tool,
};

use locknut_quantity::Units;
use std::collections::BTreeMap;

/// All declarations of a library but its procedures.
#[derive(Clone, Debug, Default)]
pub struct World {
    /// Kinds and units.
    pub units: Units,
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
    /// Procedures and subtasks by name; a broken one is there too, so that calls find it.
    pub procedures: BTreeMap<String, locknut_syntax::tree::Procedure>,
}
