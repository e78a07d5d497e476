//! What the typesetter can see: the layouts, the sheet's data, the fonts on board. No clock, no disk.

use std::sync::OnceLock;
use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World, WorldExt};

/// The layouts: the first two are whole documents, the last is part of both.
const LAYOUTS: [(&str, &str); 3] = [
    ("/sheet.typ", include_str!("sheet.typ")),
    ("/template.typ", include_str!("template.typ")),
    ("/true-scale.typ", include_str!("true-scale.typ")),
];

/// Which document is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Document {
    /// A checklist.
    Sheet,
    /// A template by itself.
    Template,
}

/// What is the same for every sheet; built once a process.
struct Shared {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
    layouts: [Source; 3],
    data: FileId,
}

/// The world of one sheet.
pub(crate) struct SheetWorld {
    shared: &'static Shared,
    main: FileId,
    data: Bytes,
}

impl SheetWorld {
    pub(crate) fn new(document: Document, data: Vec<u8>) -> Self {
        let shared = shared();
        let [sheet, template, _] = &shared.layouts;
        let main = match document {
            Document::Sheet => sheet.id(),
            Document::Template => template.id(),
        };
        Self { shared, main, data: Bytes::new(data) }
    }

    /// The file and the line of the layout that a message speaks of.
    pub(crate) fn place(&self, error: &SourceDiagnostic) -> Option<String> {
        let range = self.range(error.span)?;
        let id = error.span.id()?;
        let at = self.shared.layouts.iter().position(|layout| layout.id() == id)?;
        let (name, text) = LAYOUTS.get(at)?;
        let line = text.get(..range.start)?.matches('\n').count() + 1;
        Some(format!("{} line {line}", name.trim_start_matches('/')))
    }
}

/// Whether some font on board has a sign.
pub(crate) fn can_show(sign: char) -> bool {
    let code = u32::from(sign);
    shared().fonts.iter().any(|font| font.info().coverage.contains(code))
}

fn shared() -> &'static Shared {
    static SHARED: OnceLock<Shared> = OnceLock::new();
    SHARED.get_or_init(|| {
        let files: [&'static [u8]; 6] = [
            ttf_noto_sans::REGULAR,
            ttf_noto_sans::BOLD,
            ttf_noto_sans::ITALIC,
            ttf_noto_sans::BOLD_ITALIC,
            dejavu::sans::regular(),
            dejavu::sans::bold(),
        ];
        let fonts: Vec<Font> =
            files.iter().flat_map(|file| Font::iter(Bytes::new(*file))).collect();
        Shared {
            library: LazyHash::new(Library::default()),
            book: LazyHash::new(FontBook::from_fonts(&fonts)),
            fonts,
            layouts: LAYOUTS.map(|(name, text)| Source::new(id(name), text.to_owned())),
            data: id("/data.json"),
        }
    })
}

/// Ids are never given back, so the same few names serve every sheet.
#[expect(clippy::expect_used, reason = "the names are fixed and valid")]
fn id(path: &str) -> FileId {
    RootedPath::new(VirtualRoot::Project, VirtualPath::new(path).expect("a fixed, valid path"))
        .intern()
}

impl World for SheetWorld {
    fn library(&self) -> &LazyHash<Library> {
        &self.shared.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &self.shared.book
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        let known = self.shared.layouts.iter().find(|layout| layout.id() == id);
        known.cloned().ok_or(FileError::AccessDenied)
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        if id == self.shared.data { Ok(self.data.clone()) } else { Err(FileError::AccessDenied) }
    }

    fn font(&self, index: usize) -> Option<Font> {
        self.shared.fonts.get(index).cloned()
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        None
    }
}
