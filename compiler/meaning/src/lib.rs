//! Tree + vocabulary → names, kinds, types → step graph.
//!
//! In: the trees of all files, the standard library's first. Out: a [`World`] of declared things, and
//! one step graph for each procedure, with findings for whatever cannot be meant. The interesting
//! idea: verbs are looked up, never listed: an act is built in (`procedure/acts/`, one file each) or
//! is declared by an element of the vocabulary, and both have the same shape.
//!
//! *It does not know* how a path is proved, how anything is printed, or where files lie.

#![expect(
    missing_docs,
    reason = "fields of variants are named for what they hold; all else is documented"
)]

mod findings;
mod procedure;
mod world;

pub use findings::PAGES;
pub use procedure::{called, graph_of, graph_on, lines_that_do, looked_up, served};
pub use world::{
    ActInterlock, Attribute, Consumable, ElementAct, ElementKind, Figure, Heading, Instrument,
    Listed, Model, ModelReading, ModelThing, NamedLimit, Need, NoRoom, RelationKind, Said, Tool,
    World, build_world, labels_without_room, tightenings,
};
