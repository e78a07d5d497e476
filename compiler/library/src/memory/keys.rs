//! The hash of everything that a procedure's verdict comes from.

use crate::shelved::{Hash, Source, stir};
use locknut_finding::{FileId, Sources};
use locknut_meaning::World;
use sha2::{Digest, Sha256};
use std::collections::{BTreeMap, BTreeSet};

/// Makes the keys of one library.
pub(crate) struct Keys<'w> {
    world: &'w World,
    sources: &'w Sources,
    /// What each file's bytes come to.
    texts: BTreeMap<FileId, Hash>,
    called: &'w BTreeSet<&'w str>,
    /// All that procedures see beside each other.
    shared: Hash,
    /// Which procedures there are.
    names: Hash,
}

impl<'w> Keys<'w> {
    /// For a library whose files are `own`; `shared` of them declare more than procedures.
    pub(crate) fn of(
        world: &'w World,
        sources: &'w Sources,
        called: &'w BTreeSet<&'w str>,
        settings: Option<Hash>,
        own: &[Source],
        shared: &BTreeSet<FileId>,
    ) -> Self {
        let mut all = Sha256::new();
        stir(&mut all, "library.yaml", settings.as_ref().map_or(&[], |hash| hash.as_slice()));
        for source in own.iter().filter(|source| shared.contains(&source.file)) {
            stir(&mut all, sources.name(source.file), &source.hash);
        }
        let mut names = Sha256::new();
        for (name, procedure) in &world.procedures {
            stir(&mut names, name, procedure.heading.keyword().as_bytes());
        }
        Self {
            world,
            sources,
            texts: own.iter().map(|source| (source.file, source.hash)).collect(),
            called,
            shared: all.finalize().into(),
            names: names.finalize().into(),
        }
    }

    /// The key of a procedure of which nothing is to be told, and of one of which something is: what is told may
    /// name any other procedure as the nearest.
    pub(crate) fn key(&self, name: &str) -> (Hash, Hash) {
        let mut quiet = Sha256::new();
        stir(&mut quiet, "shared", &self.shared);
        let called = if self.called.contains(name) { "called" } else { "called by nobody" };
        stir(&mut quiet, name, called.as_bytes());
        for part in locknut_meaning::looked_up(self.world, name) {
            let Some(procedure) = self.world.procedures.get(part) else {
                stir(&mut quiet, part, b"nobody");
                continue;
            };
            let file = procedure.file();
            stir(&mut quiet, part, self.sources.name(file).as_bytes());
            stir(&mut quiet, "text", self.texts.get(&file).map_or(&[], |hash| hash.as_slice()));
        }
        let quiet: Hash = quiet.finalize().into();
        let mut told = Sha256::new();
        stir(&mut told, "told", &quiet);
        stir(&mut told, "among", &self.names);
        (quiet, told.finalize().into())
    }
}
