//! Figures by keyword and name; the standard library's tables of fasteners are read when first looked into.

use super::declared::Declared;
use super::{Figure, World, vocabulary};
use locknut_finding::{FileId, Findings};
use locknut_syntax::tree::Tree;
use std::collections::BTreeMap;
use std::sync::OnceLock;

/// By keyword, then by name.
pub(super) type ByName = BTreeMap<String, BTreeMap<String, Figure>>;

/// Threads, strength classes, friction conditions and efforts.
#[derive(Clone, Debug, Default)]
pub(crate) struct Figures {
    read: ByName,
    /// Files that declare nothing but figures, all of them sound.
    unread: Vec<FileId>,
    tables: OnceLock<ByName>,
}

impl Figures {
    pub(super) fn new(read: ByName, unread: &[FileId]) -> Self {
        Self { read, unread: unread.to_vec(), tables: OnceLock::new() }
    }
}

impl World {
    /// A figure by its keyword (`thread`) and name (`M8`).
    pub fn figure(&self, keyword: &str, name: &str) -> Option<&Figure> {
        // Most libraries never come to the tables.
        let read = self.figures.read.get(keyword).and_then(|named| named.get(name));
        read.or_else(|| self.tables().get(keyword)?.get(name))
    }

    /// Every figure of a keyword, by name.
    pub fn figures_of(&self, keyword: &str) -> BTreeMap<&str, &Figure> {
        let both = [&self.figures.read, self.tables()].into_iter();
        let named = both.filter_map(|figures| figures.get(keyword)).flatten();
        named.map(|(name, figure)| (name.as_str(), figure)).collect()
    }

    fn tables(&self) -> &ByName {
        self.figures.tables.get_or_init(|| {
            let files = self.figures.unread.iter();
            let read = |file: &FileId| locknut_syntax::parse(*file, self.sources.text(*file)).0;
            let trees: Vec<Tree> = files.map(read).collect();
            let mut none = Findings::default();
            let declared = Declared::of(&trees, &[], &mut none);
            vocabulary::figures(&declared.figures, self, &mut none)
        })
    }
}
