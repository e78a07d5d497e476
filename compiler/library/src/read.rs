//! One source file: read, or remembered as far as others see it.

use crate::memory::{Before, Remembered};
use crate::shelved::{Hash, Source};
use locknut_finding::{FileId, Report, Sources};
use locknut_meaning::Said;
use locknut_syntax::tree::{Declaration, Tree, Vocabulary};
use std::borrow::Cow;

/// One source file, read or remembered.
pub(crate) struct File<'a, 'b> {
    pub(crate) id: FileId,
    /// What its bytes come to; none of the standard library's.
    pub(crate) hash: Option<Hash>,
    /// None where it declares nothing but procedures.
    pub(crate) tree: Option<Tree>,
    pub(crate) said: Said,
    /// What was found when it was read.
    pub(crate) found: Vec<Report>,
    /// What is remembered of it, if it is the same still.
    pub(crate) remembered: Option<Remembered<'a, 'b>>,
    /// What is to be remembered of what it says; none where nothing is.
    pub(crate) kept: Option<Cow<'b, [u8]>>,
}

impl<'a, 'b> File<'a, 'b> {
    /// Of the standard library, in which nothing is wrong.
    pub(crate) fn standard(file: FileId, sources: &Sources) -> Self {
        Self::of(file, sources, locknut_syntax::parse_again(file, sources.text(file)), Vec::new())
    }

    fn of(id: FileId, sources: &Sources, tree: Tree, found: Vec<Report>) -> Self {
        let said = Said::of(id, &sources.shared(id), &tree);
        Self { id, hash: None, tree: Some(tree), said, found, remembered: None, kept: None }
    }

    /// Of an author: remembered, or else read.
    pub(crate) fn own(source: Source, before: Option<&'a Before<'b>>, sources: &Sources) -> Self {
        let Source { file, hash } = source;
        let remembered = before.and_then(|before| before.of(sources.name(file), &hash));
        let recalled = remembered.and_then(|remembered| remembered.said(file));
        let Some((recalled, bytes)) = recalled else {
            return Self { remembered, ..Self::read(source, before, sources) };
        };
        let text = sources.shared(file);
        Self {
            id: file,
            hash: Some(hash),
            tree: None,
            said: Said::listed(file, &text, recalled.headings, recalled.mentioned, recalled.broken),
            found: recalled.found,
            remembered,
            kept: Some(Cow::Borrowed(bytes)),
        }
    }

    /// Whether it declares threads, strength classes and the like.
    pub(crate) fn declares_figures(&self) -> bool {
        let mut declarations = self.tree.iter().flat_map(|tree| &tree.declarations);
        declarations.any(|declaration| {
            matches!(declaration, Declaration::Vocabulary(Vocabulary::Figure { .. }))
        })
    }

    fn read(source: Source, before: Option<&'a Before<'b>>, sources: &Sources) -> Self {
        let (tree, found) = locknut_syntax::parse(source.file, sources.text(source.file));
        let mut read = Self::of(source.file, sources, tree, found.into_reports());
        read.hash = Some(source.hash);
        read.tree = read.tree.filter(declares_more_than_procedures);
        if read.tree.is_none() {
            let kept = before.and_then(|before| before.files().keep_said(&read.found, &read.said));
            read.kept = kept.map(Cow::Owned);
        }
        read
    }
}

fn declares_more_than_procedures(tree: &Tree) -> bool {
    // A declaration that could not be read may be any.
    tree.broken
        || tree.declarations.iter().any(|declaration| match declaration {
            Declaration::Procedure(_) => false,
            Declaration::Model(_)
            | Declaration::Thing(_)
            | Declaration::Limit { .. }
            | Declaration::Vocabulary(_) => true,
        })
}
