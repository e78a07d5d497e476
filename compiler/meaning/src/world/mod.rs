//! Everything that is declared: units, elements, models, things, named limits.
//!
//! Built once for a library; procedures are read against it and see nothing else.

mod declared;
mod figures;
mod formula;
mod limits;
mod listed;
mod mentions;
mod model;
mod names;
pub(crate) mod near;
mod needs;
mod order;
mod parts;
mod pattern;
pub(crate) mod read;
mod table;
mod template;
mod things;
mod tightening;
mod unused;
mod vocabulary;
mod workshop;

pub(crate) use figures::Figures;
pub use listed::{Heading, Listed, Said};
pub use locknut_graph::Instrument;
pub(crate) use model::points::at_point;
pub(crate) use read::{
    Bounds, NoReadings, Reader, ReadingScope, can_be_tightened_to, not_too_far_together,
};
pub use template::{NoRoom, labels_without_room};
pub use things::{
    ActInterlock, Attribute, Consumable, ElementAct, ElementKind, Figure, Model, ModelReading,
    ModelThing, NamedLimit, Need, RelationKind, Tool,
};
pub(crate) use things::{
    Arrangement, Carried, Change, ElementNever, Fastening, Inspected, Sequence,
};
pub use tightening::tightenings;

use declared::Declared;
pub(crate) use formula::Formula;
use locknut_finding::{FileId, Findings, Sources};
use locknut_quantity::{Exact, KindId, Units};
use locknut_syntax::tree::{Procedure, Tree};
use std::collections::{BTreeMap, BTreeSet};
pub(crate) use table::{keys_written, outside_keys};

/// All declarations of a library but its procedures.
#[derive(Clone, Debug, Default)]
pub struct World {
    /// Kinds and units.
    pub units: Units,
    /// Kinds that are one gauge's own scale, with the scale's words ("Shore A").
    pub own_scales: BTreeMap<KindId, String>,
    /// Elements of the vocabulary: `bolts`, `part`, …
    pub elements: BTreeMap<String, ElementKind>,
    /// Threads, strength classes, friction conditions and efforts.
    pub(crate) figures: Figures,
    /// Formulas by name.
    pub formulas: BTreeMap<String, Formula>,
    /// Tables by name.
    pub tables: BTreeMap<String, std::sync::Arc<locknut_graph::Table>>,
    /// Where the rows of each table stand.
    pub(crate) table_rows: BTreeMap<String, Vec<locknut_finding::Span>>,
    /// Templates by name.
    pub templates: BTreeMap<String, std::sync::Arc<locknut_graph::Template>>,
    /// Limits and values that a template shows from edge to edge, by its name.
    pub(crate) shown: BTreeMap<String, Vec<String>>,
    /// Models by name.
    pub models: BTreeMap<String, Model>,
    /// Instruments by name.
    pub instruments: BTreeMap<String, Instrument>,
    /// What instruments apply to what they measure, by their names.
    pub(crate) applied: BTreeMap<String, locknut_quantity::Limit>,
    /// Tools by name.
    pub tools: BTreeMap<String, Tool>,
    /// Consumables by name.
    pub consumables: BTreeMap<String, Consumable>,
    /// Top-level `value`s and `limit`s.
    pub limits: BTreeMap<String, NamedLimit>,
    /// Limits and instruments that are declared but could not be read: what uses them stays quiet.
    pub broken: BTreeSet<String>,
    /// A declaration could not be read: what is missed anywhere may stand there.
    pub incomplete: bool,
    /// The texts that spans point into: messages and sheets say figures as they are written there.
    pub sources: Sources,
    /// Which part of their proof load fasteners must hold at least, however slack the joint comes out.
    pub least_preload: Exact,
    /// How limits are to be held: `library.yaml`.
    pub metrology: locknut_graph::Metrology,
    /// What records say that no author wrote, by its key in the phrase tables, in the library's language;
    /// [`World::READING_OF_NOTE`] stands where the reading is named. Records are in that language.
    pub notes: BTreeMap<String, String>,
    /// The verbs of the elements, as graphs hand them on.
    pub(crate) verbs: std::sync::Arc<locknut_graph::Verbs>,
    /// Procedures and subtasks by name; a broken one is there too, so that calls find it.
    pub procedures: BTreeMap<String, Listed>,
}

impl World {
    /// Where a note names its reading.
    pub const READING_OF_NOTE: &str = "{reading}";

    /// A procedure or subtask by its name, with its lines, to be laid in elsewhere.
    pub(crate) fn procedure(&self, name: &str) -> Option<&Procedure> {
        self.procedures.get(name)?.kept()
    }
}

/// Everything that the files declare; the standard library's come first.
///
/// Each sort of declaration is read once those that it may name are there; among themselves
/// declarations may stand in any order and in any files. Procedures are taken from what the files say
/// to others: of a file with nothing but procedures no tree is wanted. Of `unread` files, which hold nothing but
/// figures in which nothing is wrong, neither: they are read when a figure is first missed in the others.
pub fn build_world<'t>(
    trees: impl IntoIterator<Item = &'t Tree>,
    said: &[&'t Said],
    unread: &[FileId],
    sources: &Sources,
) -> (World, Findings) {
    let mut found = Findings::default();
    let trees: Vec<&Tree> = trees.into_iter().collect();
    let incomplete = trees.iter().any(|tree| tree.broken);
    let declared = Declared::of(trees, said, &mut found);
    let least_preload = tightening::usual_least_preload();
    let mut world =
        World { sources: sources.clone(), incomplete, least_preload, ..World::default() };
    vocabulary::kinds(&declared.kinds, sources, &mut world.units, &mut found);
    vocabulary::units(&declared.units, sources, &mut world.units, &mut found);
    workshop::scales(&declared.things, &mut world, &mut found);
    world.elements = vocabulary::elements(&declared.elements, sources, &mut found);
    world.verbs = std::sync::Arc::new(vocabulary::verbs(&world.elements));
    let figures = vocabulary::figures(&declared.figures, &world, &mut found);
    world.figures = Figures::new(figures, unread);
    let (formulas, broken) = formula::formulas(&declared.formulas, &world, &mut found);
    world.formulas = formulas;
    world.broken.extend(broken);
    table::tables(&declared.tables, &mut world, &mut found);
    limits::limits(&declared.limits, &mut world, &mut found);
    template::templates(&declared.templates, &mut world, &mut found);
    workshop::instruments(&declared.things, &mut world, &mut found);
    world.tools = workshop::tools(&declared.things, &world, &mut found);
    world.consumables = workshop::consumables(&declared.things, &world, &mut found);
    for procedure in &declared.procedures {
        world.procedures.insert(procedure.heading.name.text.clone(), (*procedure).clone());
    }
    world.models = model::models(&declared.models, &world, &mut found);
    unused::never_used(said, &declared, &world, &mut found);
    (world, found)
}

impl limits::Home for World {
    fn reader(&self) -> Reader<'_> {
        Reader { world: self, model: None, readings: &NoReadings }
    }

    fn keep(&mut self, name: &str, limit: Option<NamedLimit>) {
        match limit {
            Some(limit) => drop(self.limits.insert(name.to_owned(), limit)),
            None => drop(self.broken.insert(name.to_owned())),
        }
    }
}

/// The world of trees alone.
#[cfg(test)]
pub(crate) fn world_of(
    trees: &[(locknut_finding::FileId, Tree)],
    sources: &Sources,
) -> (World, Findings) {
    let said = trees.iter().map(|(file, tree)| Said::of(*file, &sources.shared(*file), tree));
    let said: Vec<Said> = said.collect();
    let said: Vec<&Said> = said.iter().collect();
    build_world(trees.iter().map(|(_, tree)| tree), &said, &[], sources)
}

#[cfg(test)]
mod tests;
