//! LN191: a file is too large, or no text in UTF-8.

use locknut_finding::{FileId, Finding, Page, Report, Span, page};

/// A file that cannot be read as text.
pub(crate) struct UnreadableFile {
    place: Span,
    name: String,
    why: Why,
}

enum Why {
    TooLarge { most: u64 },
    NotUtf8 { at: usize },
}

impl UnreadableFile {
    pub(crate) fn too_large(file: FileId, name: &str, most: u64) -> Self {
        Self { place: Span::new(file, 0, 0), name: name.into(), why: Why::TooLarge { most } }
    }

    pub(crate) fn not_utf8(file: FileId, name: &str, at: usize) -> Self {
        let start = u32::try_from(at).unwrap_or(u32::MAX);
        // The byte that could not be read is shown as one replacement sign of three bytes.
        let place = Span::new(file, start, start.saturating_add(3));
        Self { place, name: name.into(), why: Why::NotUtf8 { at } }
    }
}

impl Finding for UnreadableFile {
    const PAGE: Page = page!("LN191", "ln191_unreadable_file.md");

    fn show(&self, say: &mut Report) {
        match self.why {
            Why::TooLarge { most } => {
                say.title(format!("{} is too large to be a source", self.name));
                say.label(self.place, format!("more than {} MiB", most / (1024 * 1024)));
                say.mend("give each procedure a file of its own");
            }
            Why::NotUtf8 { at } => {
                say.title(format!("{} is not written in UTF-8", self.name));
                say.label(self.place, format!("byte {at} belongs to no letter"));
                say.mend("save the file with the encoding UTF-8");
            }
        }
        say.consequence("nothing in this file is checked or printed");
    }
}
