//! What the typesetter can see: the template, the sheet's data, the fonts on board. No clock, no disk.

use std::sync::OnceLock;
use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World, WorldExt};

const TEMPLATE: &str = include_str!("sheet.typ");

/// What is the same for every sheet; built once a process.
struct Shared {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
    template: Source,
    data: FileId,
}

/// The world of one sheet.
pub(crate) struct SheetWorld {
    shared: &'static Shared,
    data: Bytes,
}

impl SheetWorld {
    pub(crate) fn new(data: Vec<u8>) -> Self {
        Self { shared: shared(), data: Bytes::new(data) }
    }

    /// The line of the template that a message speaks of.
    pub(crate) fn line(&self, error: &SourceDiagnostic) -> Option<usize> {
        let range = self.range(error.span)?;
        Some(TEMPLATE.get(..range.start)?.matches('\n').count() + 1)
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
            template: Source::new(id("/sheet.typ"), TEMPLATE.to_owned()),
            data: id("/data.json"),
        }
    })
}

/// Ids are never given back, so the same two names serve every sheet.
#[expect(clippy::expect_used, reason = "the two names are fixed and valid")]
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
        self.shared.template.id()
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        if id == self.shared.template.id() {
            Ok(self.shared.template.clone())
        } else {
            Err(FileError::AccessDenied)
        }
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
