//! What was found out before, so that a check costs what was changed since.
//!
//! In: the bytes that an earlier check left. Out: for each file with nothing but procedures what it says to
//! others, and for each procedure what was found and proved, as long as nothing changed that
//! could change it. The interesting idea: nothing is ever told to be out of date. What is remembered lies under
//! the hash of all that it came from, and is found again only by the same hash.
//!
//! What a verdict comes from: this compiler ([`BUILD`], its standard library in it), `library.yaml`, every
//! file that declares more than procedures, and the files of the procedure and of all that it calls at any
//! depth. Where something was found, also which procedures there are: a finding may say what a name is
//! nearest to.

mod folder;
mod kept;
mod keys;
mod proof;

pub use folder::Memory;
pub(crate) use kept::{Files, Outcome};
pub(crate) use keys::Keys;

use crate::compile::Done;
use crate::read::File;
use crate::shelved::Hash;
use kept::Recalled;
use locknut_finding::{FileId, Sources};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use std::borrow::Cow;
use std::collections::BTreeMap;

/// A hash over all sources that this compiler was made of.
const BUILD: &str = env!("LOCKNUT_BUILD");

/// Ahead of everything: what kind of file this is.
const KIND: &[u8] = b"locknut memory 1\n";

/// One file with procedures.
#[derive(Clone, Debug, Serialize, Deserialize)]
struct Entry<'b> {
    name: &'b str,
    /// What its bytes come to.
    text: Hash,
    /// What it says to others, and what was found when it was read; none where it declares more than procedures and is
    /// read every time.
    said: Option<&'b [u8]>,
    /// In the order of its procedures.
    outcomes: Vec<Verdict<'b>>,
}

/// What was found out of one procedure, under all that it came from.
#[derive(Clone, Copy, Debug, Serialize, Deserialize)]
struct Verdict<'b> {
    key: Hash,
    outcome: &'b [u8],
}

/// What is remembered at the beginning of a check.
pub(crate) struct Before<'b> {
    entries: BTreeMap<&'b str, Entry<'b>>,
    files: Files,
}

impl<'b> Before<'b> {
    /// Reads what an earlier check left; whatever is damaged or foreign is nothing.
    pub(crate) fn read(bytes: &'b [u8], sources: &Sources, standard: usize) -> Self {
        let entries = entries(bytes).unwrap_or_default();
        let entries = entries.into_iter().map(|entry| (entry.name, entry)).collect();
        Self { entries, files: Files::of(sources, standard) }
    }

    /// What is remembered of a file.
    pub(crate) fn of(&self, name: &str, text: &Hash) -> Option<Remembered<'_, 'b>> {
        let entry = self.entries.get(name).filter(|entry| entry.text == *text)?;
        Some(Remembered { entry, files: &self.files })
    }

    /// What is to be remembered after a check; none where that is the same.
    pub(crate) fn after(
        &self,
        files: &[File<'_, '_>],
        outcomes: &[Done<'_>],
        sources: &Sources,
    ) -> Option<Vec<u8>> {
        let mut rest = outcomes;
        let mut entries = Vec::with_capacity(files.len());
        for file in files {
            let (own, others) = rest.split_at_checked(file.said.procedures.len())?;
            rest = others;
            entries.extend(entry(file, own, sources));
        }
        let read = files.iter().any(|file| matches!(file.kept, Some(Cow::Owned(_))));
        let proved = outcomes.iter().any(|done| done.fresh);
        if !read && !proved && entries.len() == self.entries.len() {
            return None;
        }
        let rest = postcard::to_allocvec(&entries).ok()?;
        let sum = Sha256::digest(&rest);
        Some([KIND, BUILD.as_bytes(), sum.as_slice(), &rest].concat())
    }

    pub(crate) fn files(&self) -> &Files {
        &self.files
    }
}

/// One remembered file.
#[derive(Clone, Copy)]
pub(crate) struct Remembered<'a, 'b> {
    entry: &'a Entry<'b>,
    files: &'a Files,
}

impl<'b> Remembered<'_, 'b> {
    /// What it says to others; none where that is not kept.
    pub(crate) fn said(&self, file: FileId) -> Option<(Recalled, &'b [u8])> {
        let bytes = self.entry.said?;
        kept::recall(bytes, file, self.files).map(|said| (said, bytes))
    }

    /// What was found out of one of its procedures, if from all this.
    pub(crate) fn outcome(&self, position: usize, keys: (&Hash, &Hash)) -> Option<Outcome<'b>> {
        let verdict = self.entry.outcomes.get(position)?;
        let (quiet, told) = keys;
        if verdict.key != *quiet && verdict.key != *told {
            return None;
        }
        kept::outcome(verdict.outcome, self.files)
    }
}

/// What is to be remembered of a file; none where that is nothing.
fn entry<'a>(
    file: &'a File<'_, '_>,
    outcomes: &'a [Done<'_>],
    sources: &'a Sources,
) -> Option<Entry<'a>> {
    let verdict = |done: &'a Done<'_>| {
        Some(Verdict { key: done.key, outcome: done.outcome.bytes.as_deref()? })
    };
    let said = file.kept.as_deref();
    if said.is_none() && outcomes.is_empty() {
        return None;
    }
    let outcomes = outcomes.iter().map(verdict).collect::<Option<_>>()?;
    Some(Entry { name: sources.name(file.id), text: file.hash?, said, outcomes })
}

fn entries(bytes: &[u8]) -> Option<Vec<Entry<'_>>> {
    let rest = bytes.strip_prefix(KIND)?.strip_prefix(BUILD.as_bytes())?;
    let (sum, rest) = rest.split_at_checked(size_of::<Hash>())?;
    // A file that was half written, or that a disk lost bits of, must not be believed.
    if Sha256::digest(rest).as_slice() != sum {
        return None;
    }
    postcard::from_bytes(rest).ok()
}
