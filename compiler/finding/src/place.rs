//! Places in sources.

use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// One source file, by its position in [`Sources`].
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
pub struct FileId(pub u32);

/// A range of bytes in one file; `end` is exclusive. Every node of tree, graph and sheet has one.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
pub struct Span {
    /// The file it lies in.
    pub file: FileId,
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

impl Span {
    /// The range `start..end` of `file`.
    pub fn new(file: FileId, start: u32, end: u32) -> Self {
        Self { file, start, end }
    }

    /// The smallest range that holds both; they must lie in one file, else `self` is kept.
    #[must_use]
    pub fn to(self, other: Self) -> Self {
        if self.file != other.file {
            return self;
        }
        Self { file: self.file, start: self.start.min(other.start), end: self.end.max(other.end) }
    }

    /// As `usize`, for slicing a text.
    pub fn range(self) -> std::ops::Range<usize> {
        usize::try_from(self.start).unwrap_or(0)..usize::try_from(self.end).unwrap_or(0)
    }
}

/// The texts that spans point into, shared by whoever has a copy: the standard library's files first, then the author's.
#[derive(Clone, Debug, Default)]
pub struct Sources {
    files: Vec<(Arc<str>, Arc<str>)>,
}

impl Sources {
    /// Adds a file under the name that messages show, with `/` between folders.
    pub fn add(&mut self, name: impl Into<Arc<str>>, text: impl Into<Arc<str>>) -> FileId {
        self.files.push((name.into(), text.into()));
        FileId(u32::try_from(self.files.len() - 1).unwrap_or(u32::MAX))
    }

    /// Puts another text in the place of a file's; what it was before.
    pub fn replace(&mut self, file: FileId, text: impl Into<Arc<str>>) -> Option<Arc<str>> {
        let at = usize::try_from(file.0).ok()?;
        let (_, own) = self.files.get_mut(at)?;
        Some(std::mem::replace(own, text.into()))
    }

    /// The name of a file, as messages show it.
    pub fn name(&self, file: FileId) -> &str {
        self.get(file).map_or("", |(name, _)| name)
    }

    /// The whole text of a file.
    pub fn text(&self, file: FileId) -> &str {
        self.get(file).map_or("", |(_, text)| text)
    }

    /// The same, shared.
    pub fn shared(&self, file: FileId) -> Arc<str> {
        self.get(file).map(|(_, text)| Arc::clone(text)).unwrap_or_default()
    }

    /// What the source says at a place; empty where the place is none.
    pub fn slice(&self, span: Span) -> &str {
        self.text(span.file).get(span.range()).unwrap_or("")
    }

    /// Line and column of a place's start, both from 1; columns count characters.
    pub fn line_and_column(&self, span: Span) -> (usize, usize) {
        let before = self.text(span.file).get(..span.range().start).unwrap_or("");
        let line = before.matches('\n').count() + 1;
        let column = before.rsplit('\n').next().unwrap_or("").chars().count() + 1;
        (line, column)
    }

    /// All files in order.
    pub fn files(&self) -> impl Iterator<Item = FileId> {
        (0..u32::try_from(self.files.len()).unwrap_or(u32::MAX)).map(FileId)
    }

    fn get(&self, file: FileId) -> Option<&(Arc<str>, Arc<str>)> {
        self.files.get(usize::try_from(file.0).ok()?)
    }
}
